// offsquare push at its door: the contract's keys, the exit code, what a person reads last, and refusals.
#include "cli/door.h"

#include <cmath>

using door::has;
using door::Json;

TEST_CASE("push --json holds to the contract") {
    const Json free = door::json({"push", "built-in", "--at", "80mm", "--force", "60", "--json"});
    for (const char* key : {"schema_version", "path", "bound", "bound_at_mm", "margin", "push_needed_n"})
        CHECK_MESSAGE(free.contains(key), key);
    CHECK(door::keys_of(free["margin"]) == std::vector<std::string>{"eccentricity_mm", "critical_mm"});
    REQUIRE(free["path"].size() > 100);
    for (const Json& pose : free["path"]) {
        for (const char* key : {"s_mm", "x_mm", "yaw_rad", "push_n"}) CHECK(pose.contains(key));
    }
    CHECK(free["bound"] == false);
    CHECK(free["bound_at_mm"].is_null());
    // The built-in sled's contacts stand alike on both runners: the middle line is the blade's line.
    CHECK(free["margin"]["eccentricity_mm"].get<double>() == doctest::Approx(80.0).epsilon(1e-12));
}

TEST_CASE("push: the critical distance is the guided length by twice mu, whatever the force") {
    // Where the pass begins the runners of the built-in sled reach 188.2 mm over the table: the table's near edge is at
    // -280 mm, the runners' front at 360 mm before the fence's face.
    for (const char* force : {"1000", "10000"}) {
        const Json j = door::json({"push", "built-in", "--at", "80mm", "--force", force, "--mu", "0.25", "--json"});
        const double s = j["path"][0]["s_mm"].get<double>();
        const double guided = s + 360.0 + 280.0;
        CHECK(j["margin"]["critical_mm"].get<double>() == doctest::Approx(guided / 0.5).epsilon(1e-9));
    }
    const Json j = door::json({"push", "built-in", "--at", "0", "--mu", "0", "--json"});
    CHECK(j["margin"]["critical_mm"].is_null());
    CHECK(j["push_needed_n"] == 35.0);
}

TEST_CASE("push: the text tells the yaw with its sign, counter-clockwise positive") {
    // A hand to the right of the middle pushes the right side ahead: seen from above the sled turns counter-clockwise.
    // From the left it is the mirror image, on a sled that is one.
    const auto rows = [](const std::string& at) {
        const std::string text =
            door::run({"push", "--at=" + at, "--set", "faults.left_play=0.1mm", "--set", "faults.right_play=0.1mm"})
                .out;
        const std::size_t begin = text.find("at each wall");
        REQUIRE(begin != std::string::npos);
        const std::size_t end = text.find(" N\n", begin);
        return text.substr(begin + 12, end - begin - 12);
    };
    const std::string right = rows("100mm");
    const std::string left = rows("-100mm");
    CHECK(has(right, " 0.5311 mm in 1 m"));
    CHECK(has(left, "−0.5311 mm in 1 m"));
    CHECK_FALSE(has(right, "−0.5311"));
    // And by a number: 0.1 mm of play on each side over what is guided at the beginning, 188.3 mm of the runners.
    CHECK(0.1 / 188.3 == doctest::Approx(0.5311e-3).epsilon(1e-3).scale(0));
}

TEST_CASE("push --both: the live sled goes the same way, within the declared resolution away from flips") {
    // 1 um and 5e-6 rad are demanded at 1 ms steps; at the shipped step 0.15 um and 6e-7 rad are declared
    // (contact/live.h).
    for (const std::vector<std::string>& how :
         {std::vector<std::string>{"--at", "90mm", "--to", "-70mm@20mm"}, {"--at", "-60mm", "--pull-back"}}) {
        std::vector<std::string> words{"push",   "--set", "faults.left_play=0.1mm", "--set", "faults.right_play=0.15mm",
                                       "--both", "--json"};
        words.insert(words.end(), how.begin(), how.end());
        const Json j = door::json(words);
        CHECK(j["live"]["bound"] == false);
        REQUIRE(j["live"]["path"].size() == j["path"].size());
        CHECK(j["difference"]["x_mm"].get<double>() < 1.5e-4);
        CHECK(j["difference"]["yaw_rad"].get<double>() < 6e-7);
        CHECK(j["difference"]["yaw_rad"].get<double>() > 0.0);  // two roads, not one
        CHECK(j["path"][200]["yaw_rad"].get<double>() != 0.0);
    }
    CHECK_FALSE(door::json({"push", "--at", "0", "--json"}).contains("live"));
}

TEST_CASE(
    "push --both: where the one sticks the other comes to rest by itself, and a pass to the end of what is guided is "
    "compared where both went") {
    const std::vector<std::string> loose{
        "--set", "faults.left_play=0.15mm", "--set", "faults.right_play=0.15mm", "--both", "--json"};
    const auto with = [&](std::vector<std::string> words) {
        words.insert(words.end(), loose.begin(), loose.end());
        return door::json(words);
    };
    const Json splayed =
        with({"push", "--at", "40mm", "--set", "faults.slot_splay=0.4mrad", "--set", "faults.pitch_error=0.1mm"});
    CHECK(splayed["live"]["bound"] == true);
    // It stops at the last place where it fits; at 60 mm/s a step of 0.25 ms is 0.015 mm.
    CHECK(splayed["live"]["bound_at_mm"].get<double>() ==
          doctest::Approx(splayed["bound_at_mm"].get<double>()).epsilon(0.02 / 235.0));
    const Json jams = with({"push", "--at", "400mm", "--mu", "0.4", "--force", "400"});
    CHECK(jams["outcome"] == "jams");
    CHECK(jams["path"].empty());
    CHECK(jams["live"]["bound"] == true);
    // So long a board that the pass begins with the least of the runners in the slots, 50 mm: the live sled starts a
    // tenth of a millimetre later. Friction below 50 mm by 261 mm, the distance of the inner faces of both runners:
    // above that a sled can wedge itself (Whitney 1982), which push.h does not foresee.
    const Json longer = with({"push", "--at", "60mm", "--set", "board.length=600mm", "--mu", "0.15"});
    CHECK(longer["live"]["bound"] == false);
    CHECK(longer["live"]["path"].size() < longer["path"].size());
    CHECK(longer["live"]["path"].size() > 200);
    CHECK(longer["path"][0]["s_mm"].get<double>() < -550.0);
    CHECK(longer["difference"]["yaw_rad"].get<double>() < 6e-7);
    CHECK(longer["difference"]["yaw_rad"].get<double>() > 0.0);
}

TEST_CASE("push: too far out it jams with exit code 1, and a weak hand stalls; what to change stands last") {
    const door::Said jams = door::run({"push", "--at", "600mm", "--mu", "0.4"});
    CHECK(jams.code == 1);
    CHECK(has(jams.out, "stop the blade before you free"));
    CHECK(has(jams.out, "It jams with the fence at"));
    CHECK(has(door::last_line(jams.out), "guide the sled on more length."));
    const door::Said weak = door::run({"push", "--at", "200mm", "--force", "40N"});
    CHECK(weak.code == 1);
    CHECK(has(weak.out, "It stalls with the fence at"));
    const door::Said goes = door::run({"push", "--at", "200mm"});
    CHECK(goes.code == 0);
    CHECK(has(door::last_line(goes.out), "It goes:"));
}

TEST_CASE("push: slots that splay bind half-way") {
    const Json j =
        door::json({"push", "--at", "0", "--set", "faults.slot_splay=0.4mrad", "--set", "faults.pitch_error=0.1mm",
                    "--set", "faults.left_play=0.15mm", "--set", "faults.right_play=0.15mm", "--json"});
    CHECK(j["bound"] == true);
    CHECK(j["outcome"] == "does-not-fit");
    // Runners too far apart by 0.1 mm, in slots that come nearer by tan(0.4 mrad) for each mm: half of both plays, 0.15
    // mm, is used up 125 mm past the blade's centre. The runners' front gets there with the fence 360 mm before it. The
    // cosines of splay and yaw change the play by under 1e-5 mm: 0.03 mm of travel.
    CHECK(j["bound_at_mm"].get<double>() == doctest::Approx(0.05 / std::tan(0.4e-3) - 360.0).epsilon(0.03 / 235.0));
    CHECK(j["path"].size() > 5);
}

TEST_CASE("push: what was typed wrongly is named, with an example") {
    struct Wrong {
        std::vector<std::string> words;
        const char* part;
    };
    for (const Wrong& w : {Wrong{{"push", "--at", "soon"}, "not a length"}, Wrong{{"push", "--at", "3m"}, "within 2 m"},
                           Wrong{{"push", "--at", "0", "--force", "none"}, "--force is a force"},
                           Wrong{{"push", "--at", "0", "--mu", "-1"}, "--mu is a coefficient"},
                           Wrong{{"push", "--at", "0", "--to", "5mm"}, "--to is X@S"},
                           Wrong{{"push", "--at", "0", "--to", "5@9", "--to", "5@8"}, "by increasing travel"}}) {
        const door::Said said = door::run(w.words);
        CHECK(said.code == 2);
        CHECK_MESSAGE(has(said.err, w.part), said.err);
    }
}
