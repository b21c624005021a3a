// Sessions to draw: every scenario of the project at every stage of the job.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "both_sides.h"
#include "picture/table_view.h"
#include "session/reveal.h"

namespace sessions {

using namespace offsquare;
using session::Action;
using session::CutTest;
using session::End;
using session::PutShim;
using session::Read;

inline std::vector<scenario::Scenario> scenarios() {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/scenarios")) {
        if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<scenario::Scenario> out;
    for (const std::string& path : paths) {
        const auto loaded = scenario::load(path);
        REQUIRE_MESSAGE(loaded.has_value(), path);
        out.push_back(loaded->scenario);
    }
    return out;
}

/// The saw with some of its values changed.
inline scenario::Scenario changed(const scenario::Scenario& s, const std::vector<scenario::Override>& overrides) {
    const auto out = scenario::with(s, overrides);
    REQUIRE_MESSAGE(out.has_value(), (out ? std::string{} : out.error().message));
    return *out;
}

inline std::vector<Action> read_actions() { return {CutTest{}, Read{End::fence, 10.0}, Read{End::far, 10.0}}; }

/// The stages of the job, by name.
struct Stage {
    std::string name;
    std::vector<Action> actions;
};
inline std::vector<Stage> stages() {
    std::vector<Action> shims = read_actions();
    shims.push_back(session::WorkOut{});
    shims.push_back(PutShim{shim::At::left, 0});
    shims.push_back(PutShim{shim::At::left, 1});
    std::vector<Action> both = shims;
    both.push_back(PutShim{shim::At::right, 1});
    both.push_back(session::PutThickness{shim::At::right, 0.12});
    both.push_back(session::PutThickness{shim::At::right, 0.03});
    both.push_back(session::PutThickness{shim::At::right, 0.07});
    std::vector<Action> proved = shims;
    for (const Action& a : read_actions()) proved.push_back(a);
    return {{"ready", {}},
            {"cut", {CutTest{}}},
            {"one end", {CutTest{}, Read{End::fence, 0.0}}},
            {"read", read_actions()},
            {"shimmed", shims},
            {"both ends", both},
            {"proved", proved}};
}

inline session::History run(const scenario::Scenario& s, const std::vector<Action>& actions,
                            measure::Precision precision = measure::Precision::real) {
    auto history = session::run(s, actions, s.seed, precision);
    REQUIRE_MESSAGE(history.has_value(), (history ? std::string{} : history.error().message));
    return *history;
}

/// The stages that this saw can come to: one whose sled binds gives no strip to read.
inline std::vector<Stage> stages(const scenario::Scenario& s) {
    std::vector<Stage> all = stages();
    if (!run(s, {CutTest{}}).seen().tests.back().strip_fell) all.resize(2);
    return all;
}

inline session::History exact(const scenario::Scenario& s, const std::vector<Action>& actions) {
    return run(s, actions, measure::Precision::exact);
}

/// What a person sees who has asked for the truth.
inline std::shared_ptr<const session::Revealed> revealed(const session::History& history) {
    return std::make_shared<const session::Revealed>(session::reveal(history));
}

}  // namespace sessions
