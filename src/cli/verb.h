// One function per verb: what was typed goes in, what is to be said comes out.
#pragma once

#include <istream>
#include <ostream>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/arguments.h"
#include "cli/text.h"

namespace offsquare::cli {

struct Answer {
    std::string out;                 ///< for stdout, complete
    std::vector<std::string> notes;  ///< for stderr, one line each
    int code = 0;                    ///< 0 or 1
};

struct Door {
    std::istream& in;
    Ink ink;
    std::ostream* ask = nullptr;  ///< where a person is asked who then answers on `in`; nullptr: nobody sits there
    std::ostream* now = nullptr;  ///< stdout, for a verb that answers line by line; nullptr: it has to wait for the end
};

base::Result<Answer> cut_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> shim_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> saw_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> push_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> job_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> picture_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> check_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> keys_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> faults_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> checks_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> diagnose_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> coach_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> cases_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> drill_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> mark_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> replay_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> cautions_verb_answer(const Arguments& arguments, const Door& door);
base::Result<Answer> window_verb_answer(const Arguments& arguments, const Door& door);  ///< why there is none: `window`
                                                                                        ///< is for who opens one

}  // namespace offsquare::cli
