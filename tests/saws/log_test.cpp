// A log is only added to: what counts, in which order, and what is refused.
#include <doctest/doctest.h>

#include "logs.h"
#include "saws/answer.h"
#include "saws/curve.h"
#include "saws/form.h"

namespace log_test {

using namespace logs;

namespace {

std::vector<int> numbers(const Sled& sled) {
    std::vector<int> all;
    for (const Entry* e : in_effect(sled)) all.push_back(e->number);
    return all;
}

}  // namespace

TEST_CASE("in effect: by date, then by number; what is corrected stands at the place of what it corrects") {
    Sled s{"a", "", base::Units::metric, {}};
    s = with(s, Remark{"second day"}, day(2026, 3, 4));
    s = with(s, Remark{"first day, typed later"}, day(2026, 3, 3));
    s = with(s, Remark{"second day again"}, day(2026, 3, 4));
    CHECK(numbers(s) == std::vector<int>{2, 1, 3});
    s = with(s, Remark{"second day, put right"}, day(2026, 3, 4), 1);
    CHECK(numbers(s) == std::vector<int>{2, 4, 3});
    s = with(s, Withdrawn{}, today, 3);
    CHECK(numbers(s) == std::vector<int>{2, 4});
    CHECK(s.entries.size() == 5);
    CHECK(corrected_by(s, 1)->number == 4);
    CHECK(!added(s, Remark{"x"}, today, today, 1));  // corrected already
    CHECK(!added(s, Remark{"x"}, today, today, 5));  // a withdrawal
    CHECK(!added(s, Remark{"x"}, today, today, 9));
    CHECK(!added(s, Withdrawn{}, today, today));
}

TEST_CASE("refused: days to come, strips and notes that say nothing") {
    const Sled s{"a", "", base::Units::metric, {}};
    CHECK(!added(s, Remark{"x"}, day(2026, 11, 30), today));
    CHECK(!added(s, Remark{" "}, today, today));
    CHECK(!added(s, Remark{"two\nlines"}, today, today));
    Strip partly = strip("12.6", "12.0");
    partly.far_end.clear();
    const auto refused = added(s, StripTest{partly}, today, today);
    REQUIRE(!refused);
    CHECK(refused.error().message.find("the far end") != std::string::npos);
    CHECK(!added(s, SizesTyped{{{"faults.fence_skew", "1 mrad"}}}, today, today));
    CHECK(!added(s, SizesTyped{{{"fence.length", "long"}}}, today, today));
    CHECK(!check_name(" "));
    CHECK(!check_name(std::string(81, 'x')));
    CHECK(!check_name("\xff"));
    CHECK(check_name("Säge"));
}

TEST_CASE("sizes go in in any order, and what does not fit together is said in plain words") {
    Sled s{"a", "", base::Units::metric, {}};
    s = with(s, SizesTyped{{{"fence.length", "400 mm"}}});
    CHECK(set_up_of(s).does_not_fit.empty());
    CHECK(set_up_of(s).scenario.drawing.fence.length_mm == 400.0);
    CHECK(set_up_of(s).scenario.drawing.fence.span_mm() <= 400.0);
    s = with(s, SizesTyped{{{"fence.span", "500 mm"}}});
    REQUIRE(set_up_of(s).does_not_fit.size() == 1);
    const std::string says = set_up_of(s).does_not_fit.front();
    CAPTURE(says);
    CHECK(says.find("the fence") != std::string::npos);
    CHECK(says.find("fence.") == std::string::npos);
    CHECK(says.find("_") == std::string::npos);
}

TEST_CASE("every size of the form may be typed alone, and each with each other") {
    // One value each, from small saws and large ones; no pair that belongs to one saw is refused.
    for (const SizeInfo& one : size_infos()) {
        for (const SizeInfo& other : size_infos()) {
            CAPTURE(one.key);
            CAPTURE(other.key);
            Sled s{"a", "", base::Units::metric, {}};
            for (const SizeInfo* i : {&one, &other}) {
                std::string value;
                for (const auto& k : scenario::keys())
                    if (k.key == i->key) value = k.example;
                if (i->key == "fence.span") value = "520 mm";
                s = with(s, SizesTyped{{*size_of(i->key, value, s.units)}});
            }
            const SetUp set_up = set_up_of(s);
            for (const std::string& why : set_up.does_not_fit) MESSAGE(why);
            CHECK(set_up.does_not_fit.empty());
        }
    }
}

TEST_CASE("a file says the same when it is read again, and is refused where it is not a log") {
    const Sled s = blue_sled();
    const std::string text = file_text(s);
    const auto again = read_file_text(text, "x");
    REQUIRE(again);
    CHECK(again->notes.empty());
    CHECK(file_text(again->sled) == text);
    CHECK(again->sled.name == "the blue sled");
    // Cut off anywhere in its last line: that line alone is lost, and it is said.
    const auto cut = read_file_text(std::string_view(text).substr(0, text.size() - 5), "x");
    REQUIRE(cut);
    CHECK(cut->notes.size() == 1);
    CHECK(cut->sled.entries.size() == s.entries.size() - 1);
    for (const auto& change : {std::pair<std::string, std::string>{"\"offsquare_sled\":1", "\"offsquare_sled\":2"},
                               {"\"n\":2", "\"n\":1"},
                               {"2026-03-03", "2026-02-30"},
                               {"\"what\":\"test\"", "\"what\":\"dance\""},
                               {"\"mm\":12.62", "\"mm\":\"12.62\""},
                               {"\"fell\":\"right\"", "\"fell\":\"up\""}}) {
        const std::string& find = change.first;
        const std::string& put = change.second;
        CAPTURE(find);
        std::string bad = text;
        bad.replace(bad.find(find), find.size(), put);
        const auto read = read_file_text(bad, "blue.jsonl");
        REQUIRE(!read);
        CHECK(read.error().grade == base::Grade::bad_data);
        CHECK(read.error().message.find("blue.jsonl:") == 0);
    }
}

TEST_CASE("a log becomes a session at a real saw, and all of it is carried over") {
    const OwnHistory own = history_of(blue_sled());
    CHECK(own.left_out.empty());
    const session::Seen& seen = own.history.seen();
    CHECK(seen.real_saw);
    REQUIRE(seen.checks.size() == 3);
    CHECK(entry_of(own, seen.checks[0]) == 3);
    CHECK(entry_of(own, seen.checks[2]) == 6);
    CHECK(session::marked_mm(seen.behind_left) == doctest::Approx(0.25));
    CHECK(seen.left_in_drawer == std::vector<int>{2, 4});
    CHECK(seen.checks[0].report.occasion.behind_left_mm == 0.0);
    CHECK(seen.checks[1].report.occasion.behind_left_mm == doctest::Approx(0.25));
    CHECK(seen.checks[1].report.occasion.clamped_again == 1);
    CHECK(weigh(seen));
    CHECK(readings_file(own).find("[[check]]") != std::string::npos);
    // The fence is moved: what was read of it is over, and the straightedge's reading of its face is not.
    const OwnHistory moved = history_of(with(blue_sled(), FenceMoved{}));
    CHECK(!moved.history.seen().checks[0].holds());
    CHECK(!moved.history.seen().checks[1].holds());
    CHECK(moved.history.seen().checks[2].holds());
}

TEST_CASE("the curve: a point a test, and what was done between them") {
    const Curve c = curve_of(blue_sled(), base::Units::metric);
    REQUIRE(c.points.size() == 2);
    REQUIRE(c.events.size() == 2);
    CHECK(c.events[0].label == "shim 0.250 mm left");
    CHECK(c.events[1].label == "slots waxed");
    CHECK(c.is_point == std::vector<bool>{true, false, true, false});
    // (12.62 - 12.02)/305/4 by hand, small angles.
    CHECK(c.points[0].skew_rad.value == doctest::Approx(0.60 / 305.0 / 4.0).epsilon(1e-5));
    CHECK(c.points[0].state == diagnose::State::fail);
    CHECK(c.points[1].state == diagnose::State::pass);
    CHECK(c.tolerance_rad == 0.00035);
}

TEST_CASE("an answer lives on fields that are partly typed, and says in words what is missing") {
    const Sled s = blue_sled();
    Strip partly;
    const SetUp set_up = set_up_of({"a", "", base::Units::metric, {}});
    const Answer nothing = answer_of(partly, set_up, {});
    CHECK(nothing.missing.size() == 5);
    CHECK(words_of(nothing, base::Units::metric).heading.find("the far end") != std::string::npos);
    partly.fence_end = {mm("12.62")};
    partly.far_end = {mm("12.02")};
    partly.between = mm("305");
    partly.fell = shop::Side::right;
    const Answer most = answer_of(partly, set_up, {});
    CHECK(most.missing == std::vector<std::string>{"the distance between the shim points"});
    CHECK(most.test.skew_rad);
    CHECK(!most.shim);
    // 0.60/4/305*500 by hand.
    const Answer whole = answer_of(partly, set_up_of(s), standing_of(s));
    REQUIRE(whole.shim);
    CHECK(whole.shim->shim_mm.value == doctest::Approx(0.60 / 4.0 / 305.0 * 500.0).epsilon(1e-5));
    CHECK(whole.shim->at == shim::At::left);
    CHECK(words_of(whole, base::Units::metric).heading == "Add 0.246 mm behind the left end");
    CHECK(words_of(*newest_answer(s), base::Units::metric).heading == "Square enough: leave the fence as it is");
}

TEST_CASE("a strip is answered as the fence stood when it was cut, whatever was put behind it later that day") {
    Sled s{"a", "", base::Units::metric, {}};
    s = with(s, DrawerTyped{{{"brass", 0.1, 0.003, 4}}});
    s = with(s, StripTest{strip("12.62", "12.02")});
    CHECK(words_of(*newest_answer(s), base::Units::metric).heading == "Put 0.246 mm behind the left end");
    s = with(s, ShimsMoved{{{"brass", 0.1, 0.003}}, {}, {}, {}});
    CHECK(words_of(*newest_answer(s), base::Units::metric).heading == "Put 0.246 mm behind the left end");
    CHECK(newest_answer(s)->standing.left.empty());
    // But nobody is told to put it in once more.
    const auto again = cut_again(s, base::Units::metric, s.entries.back().date);
    REQUIRE(again);
    CHECK(again->heading == "Now prove it: cut a second strip");
    CHECK(again->why.find("had asked for 0.246 mm behind the left end") != std::string::npos);
    s = with(s, StripTest{strip("12.50", "12.02")});
    CHECK(!cut_again(s, base::Units::metric, s.entries.back().date));
    CHECK(words_of(*newest_answer(s), base::Units::metric).heading == "Add 0.197 mm behind the left end");
    CHECK(as_moved(*newest_answer(s)).put_left.size() == 2);
}

TEST_CASE("a strip that fell on the left is the same fence as one that fell on the right with its ends exchanged") {
    const auto skew = [](const Sled& s) {
        const auto found = weigh(history_of(s).history.seen());
        REQUIRE(found);
        return found->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_skew)].size;
    };
    Sled s{"a", "", base::Units::metric, {}};
    const double right = skew(with(s, StripTest{strip("13.62", "12.02")}));
    Strip left = strip("12.02", "13.62");
    left.fell = shop::Side::left;
    const double one = skew(with(s, StripTest{left}));
    CHECK(right > 0.0);
    CHECK(one == doctest::Approx(right).epsilon(0.05));
    // Both in one log: the second turned round, they agree.
    const double both = skew(with(with(s, StripTest{strip("13.62", "12.02")}), StripTest{left}));
    CHECK(both == doctest::Approx(right).epsilon(0.05));
}

}  // namespace log_test
