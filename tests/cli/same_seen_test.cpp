// Two saws of which the same was seen: the command line prints the same of them.
#include "same_seen.h"

#include <doctest/doctest.h>

#include "cli/door.h"
#include "cli/json.h"
#include "cli/report.h"

using namespace offsquare;
using same_seen::difference;
using same_seen::Pair;

namespace {

std::string printed(const session::History& history) {
    std::string out;
    const cli::Ink ink{};
    for (const session::Test& test : history.seen().tests) {
        cli::Json json = cli::document(history.seen().seed);
        cli::add_test(json, test);
        out += cli::printed(json);
        for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
            out += cli::behind_the_fence(test, units) + cli::cut_lines(test, units) +
                   cli::reading_lines(test, units, ink) + cli::working_lines(test, units, ink) +
                   cli::shim_lines(test, units);
            if (test.verdict) out += cli::inked_verdict(test, units, ink);
        }
    }
    return out + cli::set_up_lines(history.scenario());
}

}  // namespace

TEST_CASE("two saws of which the same was seen: each piece of a report and its JSON are the same") {
    for (const Pair& pair : same_seen::pairs()) {
        CAPTURE(pair.name);
        const std::string one = printed(pair.one);
        CHECK(one.size() > 500);
        CHECK(difference(one, printed(pair.other)) == "");
    }
}

TEST_CASE("a fault that what is done cannot see: every verb prints the same, unless it is asked to reveal") {
    // A fence that turns whenever it is clamped anew, and here nobody loosens it; one that leans to the board, which
    // lies on its lower edge then, also with other shims behind it.
    const std::vector<std::string> creep{"--set", "faults.clamp_creep=0.9mrad"};
    const std::vector<std::string> lean{"--set", "faults.fence_lean=9mrad"};
    const std::vector<std::vector<std::string>> commands{
        {"cut", "built-in"},
        {"cut", "built-in", "--json"},
        {"cut", "built-in", "--exact", "--set", "units=imperial"},
        {"cut", "built-in", "--at", "80mm"},
        {"cut", "built-in", "--check", "wiggle", "--check", "jaws", "-o", "-"},
        {"cut", "built-in", "--check", "five-cut", "--json"},
        {"picture", "built-in", "-o", "-"},
        {"picture", "built-in", "--stage", "set-up", "-o", "-"},
        {"picture", "built-in", "--stage", "cut", "-o", "-"},
        {"picture", "built-in", "--stage", "prove", "-o", "-"},
        {"push", "built-in", "--json"},
        {"job", "built-in"},
        {"job", "built-in", "--json"},
    };
    for (const std::vector<std::string>& command : commands) {
        std::vector<std::string> other = command;
        const std::vector<std::string>& fault = command.front() == "job" || command.back() == "-" ? lean : creep;
        other.insert(other.end(), fault.begin(), fault.end());
        const door::Said a = door::run(command);
        const door::Said b = door::run(other);
        CAPTURE(command.front());
        CAPTURE(a.err);
        REQUIRE(a.code <= 1);
        CHECK(a.out.size() > 100);
        CHECK(a.code == b.code);
        CHECK(difference(a.out, b.out) == "");
        CHECK(a.err == b.err);
    }
    const auto reveal = [&](std::vector<std::string> words, const std::vector<std::string>& more) {
        words.insert(words.end(), more.begin(), more.end());
        return door::run(words).out;
    };
    CHECK(reveal({"cut", "built-in", "--reveal"}, {}) != reveal({"cut", "built-in", "--reveal"}, creep));
    CHECK(reveal({"cut", "built-in", "--reveal", "--json"}, {}) !=
          reveal({"cut", "built-in", "--reveal", "--json"}, creep));
}
