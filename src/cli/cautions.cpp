// offsquare cautions: what to keep in mind at a real saw.
#include "cli/verb.h"
#include "session/story.h"

namespace offsquare::cli {

base::Result<Answer> cautions_verb_answer(const Arguments&, const Door& door) {
    const session::Cautions& cautions = session::cautions();
    std::string text = door.ink.heading(cautions.title) + "\n\n";
    for (const std::string& line : cautions.lines) {
        std::string item = wrapped(line, 100, 4);
        item[2] = '-';  // the indent of the first line holds the mark
        text += item + "\n";
    }
    return Answer{text + "\n" + door.ink.strong(cautions.short_line) + "\n", {}, 0};
}

}  // namespace offsquare::cli
