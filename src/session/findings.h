// The diagnosis in words and in the order in which a person wants it: what is likely, what is ruled out, what cannot be
// told apart, what to do next.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "diagnose/advise.h"
#include "diagnose/infer.h"
#include "session/model.h"
#include "shop/drawing.h"

namespace offsquare::session {

/// The check to make next, and why in one sentence, which names only faults that it sees. A reading that contradicts is
/// read again first; then comes the blade against the slot. Then, while the readings leave a pair that they cannot tell
/// apart: the check that separates the most open pair best for its minutes and its board; else, or where none does, the
/// one that tells most for them. One that was made before must tell a good deal more, and is proposed three times at
/// most.
struct NextCheck {
    measure::Check check = measure::Check::five_cut;
    std::string why;
};

struct Findings {
    diagnose::Diagnosis diagnosis;
    std::optional<NextCheck> next;  ///< empty: no check would tell enough for its minutes
};

/// Everything that follows from these reports on a saw of these sizes, on these assumptions; without any, on the usual.
base::Result<Findings> find_out(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing,
                                const Assumptions& assumed);
base::Result<Findings> find_out(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing);

/// How sure: above 0.95 "there", unless a contradiction touches it; below 0.05 "ruled out", if readings made it so;
/// between them "open".
enum class Standing { untouched, ruled_out, open, supported };
Standing standing_of(const diagnose::Belief& belief);

std::string_view name_of(shop::Fault fault);  ///< "fence off square"
std::string size_text(shop::Fault fault, double size,
                      base::Units units);  ///< "0.62 mm in 1 m" or "0.250 mm"
std::string sentence_of(const diagnose::Belief& belief,
                        base::Units units);  ///< "There: fence off square, 0.62 mm in 1 m give or take 0.04 (95 %)."
std::string sentence_of(const diagnose::LookAlikes& pair);
std::string sentence_of(const diagnose::Contradiction& contradiction);

/// Whether a reading that contradicts is to be read again: until then nothing is put right.
bool reads_again(const Findings& findings);

/// The open faults that stand in a pair with this one: the readings cannot tell them apart. Premature closing is a main
/// cause of wrong verdicts.
std::vector<shop::Fault> rivals_of(const Findings& findings, shop::Fault fault);

/// Whether it jams the sled by being there: a runner that is loose cannot, though one that is tight does.
bool may_jam(shop::Fault fault);

/// The surest of the faults that are there but these, and while the sled jams of those that may jam it; empty while
/// none is.
std::optional<shop::Fault> first_to_repair(const Findings& findings, std::span<const shop::Fault> but = {});

}  // namespace offsquare::session
