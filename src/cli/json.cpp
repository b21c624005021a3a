#include "cli/json.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "session/reveal.h"

namespace offsquare::cli {

namespace {

Json values_of(const std::vector<measure::Reading>& readings) {
    Json values = Json::array();
    for (const measure::Reading& reading : readings) values.push_back(number(reading.value_mm));
    return values;
}

Json points_of(const base::Profile& profile) {
    Json points = Json::array();
    for (const base::Vec2& p : profile.points()) points.push_back(Json::array({number(p.x), number(p.y)}));
    return points;
}

Json strip_of(const session::Test& test) {
    const diagnose::StripReadings& strip = *test.strip;
    Json json;
    json["length_mm"] = number(strip.between_mm.value);
    json["fence_end_mm"] = number(strip.fence_end_mm.value);
    json["far_end_mm"] = number(strip.far_end_mm.value);
    json["side"] = strip.side == shop::Side::left ? "left" : "right";
    json["u_length_mm"] = number(strip.between_mm.u);
    json["u_fence_end_mm"] = number(strip.fence_end_mm.u);
    json["u_far_end_mm"] = number(strip.far_end_mm.u);
    json["fence_end_readings_mm"] = values_of(test.fence_end);
    json["far_end_readings_mm"] = values_of(test.far_end);
    return json;
}

Json estimate_of(const base::Uncertain& skew_rad) {
    Json json;
    json["fence_skew_rad"] = number(skew_rad.value);
    json["u_rad"] = number(skew_rad.u);
    json["coverage95_rad"] = interval_of(base::coverage(skew_rad));
    if (std::isfinite(skew_rad.dof)) json["degrees_of_freedom"] = number(skew_rad.dof);  // left out: u is known
    return json;
}

Json pieces_of(const std::vector<shim::PickedShim>& pieces) {
    Json json = Json::array();
    for (const shim::PickedShim& piece : pieces)
        json.push_back({{"name", piece.name}, {"thickness_mm", number(piece.thickness_mm)}});
    return json;
}

Json shim_of(const shim::Proposal& proposal) {
    Json json;
    json["ideal_mm"] = number(proposal.ideal_mm.value);
    json["u_mm"] = number(proposal.ideal_mm.u);
    json["at"] = std::string(shim::name_of(proposal.at));
    json["stack"] = pieces_of(proposal.best.pieces);
    json["stack_mm"] = number(proposal.best.thickness_mm);
    json["remainder_rad"] = number(proposal.best.remainder_rad.value);
    json["u_remainder_rad"] = number(proposal.best.remainder_rad.u);
    json["tells_end"] = proposal.tells_end;
    json["why"] = proposal.why;
    if (proposal.other_way) {
        const shim::OtherWay& other = *proposal.other_way;
        json["other_way"] = {{"add_left", pieces_of(other.add_left)},
                             {"add_right", pieces_of(other.add_right)},
                             {"take_left", pieces_of(other.take_left)},
                             {"take_right", pieces_of(other.take_right)},
                             {"remainder_rad", number(other.remainder_rad.value)},
                             {"sentence", shim::words_of(other, base::Units::metric)}};
    }
    return json;
}

}  // namespace

double number(double value) {
    if (!std::isfinite(value)) throw std::logic_error("a number for the JSON document is not finite");
    return value == 0.0 ? 0.0 : value;
}

Json interval_of(const base::Interval& interval) { return Json::array({number(interval.lo), number(interval.hi)}); }

Json document(std::uint64_t seed) {
    Json json;
    json["schema_version"] = schema_version;
    json["seed"] = seed;
    return json;
}

namespace {

/// What anyone sees on the last cut's face and in its kerf.
void add_face(Json& to, const cut::FaceMarks& face) {
    to["kerf_mm"] = number(face.kerf_mm);
    to["face_step_mm"] = number(face.step_mm);
    to["heel_marks"] = face.heel_marks;
    to["heel_marks_on"] = !face.heel_marks || !face.heel_on   ? "neither piece"
                          : *face.heel_on == shop::Side::left ? "left piece"
                                                              : "right piece";
    to["heel_mark_depth_mm"] = number(face.heel_depth_mm);
    to["bevel_rad"] = number(face.bevel_rad);
}

Json hand_of(const contact::HandPush& hand) {
    Json json;
    json["force_n"] = number(hand.force_n);
    json["at_mm"] = number(contact::grip_at(hand, -std::numeric_limits<double>::infinity()));
    json["to"] = Json::array();
    for (std::size_t i = 1; i < hand.grips.size(); ++i)
        json["to"].push_back({{"at_mm", number(hand.grips[i].x_mm)}, {"from_mm", number(hand.grips[i].from_mm)}});
    return json;
}

}  // namespace

void add_test(Json& to, const session::Test& test) {
    to["outcome"] = {{"name", std::string(cut::name_of(test.outcome))},
                     {"sentence", std::string(cut::sentence_of(test.outcome))}};
    to["brushed"] = test.brushed;
    if (test.pushed) to["pushed"] = hand_of(test.pushed->hand);
    if (test.cuts_made > 0) add_face(to, test.face);
    if (test.strip) to["strip"] = strip_of(test);
    if (test.skew_rad) to["estimate"] = estimate_of(*test.skew_rad);
    if (test.pooled_tests > 1) {
        to["estimate_together"] = estimate_of(*test.pooled_rad);
        to["estimate_together"]["tests"] = test.pooled_tests;
    }
    if (test.proposal) to["shim"] = shim_of(*test.proposal);
    if (test.verdict) to["verdict"] = verdict_of(test);
}

void add_truth(Json& to, const session::Revealed& revealed) {
    const session::TrueTest& test = revealed.tests.back();
    Json truth;
    truth["fence_skew_rad"] = number(test.skew_rad);
    for (const shop::FaultInfo& f : shop::faults()) {
        // "fault_" keeps the skew as it was set apart from the skew during the test, shims counted.
        const std::string name = (f.fault == shop::Fault::fence_skew ? "fault_" : "") + std::string(f.key);
        truth[name + (f.unit == shop::FaultUnit::rad ? "_rad" : "_mm")] =
            number(revealed.sizes[static_cast<std::size_t>(f.fault)]);
    }
    // Points [place, departure] along a face; none: straight.
    for (const session::HiddenShape& s : revealed.shapes) truth[std::string(s.key) + "_mm"] = points_of(s.profile);
    to["truth"] = truth;
    Json corners = Json::array();
    for (const double corner : test.corners_rad) corners.push_back(number(corner));
    to["corners_rad"] = corners;
}

namespace {

std::string_view work_word(diagnose::Work work) {
    switch (work) {
        case diagnose::Work::test: return "test";
        case diagnose::Work::wiggle: return "wiggle";
        case diagnose::Work::wiggle_and_test: return "wiggle and test";
        case diagnose::Work::none: break;
    }
    return "none";
}

std::string_view boards_word(session::OtherBoards boards) {
    switch (boards) {
        case session::OtherBoards::alike: return "alike";
        case session::OtherBoards::otherwise: return "otherwise";
        case session::OtherBoards::unknown: break;
    }
    return "unknown";
}

}  // namespace

Json verdict_of(const session::Test& test) {
    const diagnose::Verdict& verdict = *test.verdict;
    Json json;
    json["about"] = "fence";
    json["state"] = std::string(word_of_state(verdict.state));
    json["tolerance_rad"] = number(verdict.tolerance_rad);
    json["fence_skew_rad"] = number(verdict.mean_rad);
    json["coverage95_rad"] = interval_of(verdict.coverage95);
    json["strip_state"] = std::string(word_of_state(diagnose::state_of(*test.skew_rad, verdict.tolerance_rad)));
    json["changes_between_tests"] = verdict.changes;
    json["board"] = {{"width_mm", number(test.drawing.board.width_mm)},
                     {"length_mm", number(test.drawing.board.length_mm)}};
    json["other_boards"] = std::string(boards_word(test.other_boards));
    if (verdict.state != diagnose::State::undecided) return json;
    json["tests_to_decide"] = verdict.tests_to_decide;
    json["least_work"] = {{"what", std::string(work_word(verdict.work))},
                          {"tests", verdict.more_tests},
                          {"minutes", number(verdict.work_minutes)}};
    return json;
}

std::string_view word_of_state(diagnose::State state) {
    switch (state) {
        case diagnose::State::pass: return "pass";
        case diagnose::State::fail: return "fail";
        case diagnose::State::undecided: break;
    }
    return "undecided";
}

// A name from a file may hold any text; what is not UTF-8 is replaced rather than thrown at the reader.
std::string printed(const Json& json) { return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n"; }

}  // namespace offsquare::cli
