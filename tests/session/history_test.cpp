// The history: undo and redo against a list with a cursor, intentions that are done whole or not at all, and the same
// bytes by whatever road a state was reached.
#include "session/history.h"

#include <doctest/doctest.h>

#include <random>

#include <rapidcheck.h>

#include "base/property.h"
#include "repeats.h"
#include "session/hunt_words.h"
#include "session/job.h"

using namespace job;
using session::Entry;
using session::MakeCheck;
using session::Repair;

namespace {

/// Actions told apart by a number; cheap, and possible in any order.
Action action(int id) { return PutThickness{id % 2 == 0 ? At::left : At::right, 0.001 * id}; }
double id_of(const Action& a) { return std::round(1000.0 * std::get<PutThickness>(a).thickness_mm); }

bool same(const std::vector<Action>& a, const std::vector<int>& b, std::size_t n) {
    if (a.size() != n) return false;
    for (std::size_t i = 0; i < n; ++i) {
        if (id_of(a[i]) != b[i]) return false;
    }
    return true;
}

/// Everything that a session says about itself after what stands of it, the record aside.
std::string told(const History& h) {
    const session::Seen& seen = h.seen();
    std::string text = session::to_text(job::log_of(h.start(), seen.seed, seen.precision, h.actions()));
    std::size_t n = 0;
    for (const session::Note& note : session::notes_of(seen)) {
        const session::NoteWords words = session::words_of(note, ++n, seen.drawing, base::Units::metric);
        text += words.title + "|" + words.set_aside + "\n";
        for (const auto& r : words.readings) text += r.name + " " + r.value + "\n";
    }
    for (const session::DeedWords& d : session::what_was_done(seen, base::Units::metric))
        text += d.what + "|" + d.came + "|" + d.set_aside + "\n";
    for (const session::Event& e : seen.events) text += fmt::format("{} {} {:g}\n", e.number, e.says, e.cost.minutes);
    for (const int left : seen.left_in_drawer) text += fmt::format("{} ", left);
    return text + fmt::format("{:a} {} {:a} {:a}", both_sides::skew_now_rad(h), seen.clamped_again, seen.minutes,
                              seen.stock_mm);
}

using Engine = std::mt19937_64;
int up_to(Engine& e, int most) { return static_cast<int>(e() % static_cast<std::uint64_t>(most + 1)); }

/// What a person may do, sensible and not.
Action any_action(Engine& e) {
    const At at = up_to(e, 1) == 0 ? At::left : At::right;
    switch (up_to(e, 11)) {
        case 0:
        case 1: return CutTest{};
        case 2:
        case 3: return Read{End::fence};
        case 4:
        case 5: return Read{End::far};
        case 6: return WorkOut{};
        case 7: return PutShim{at, up_to(e, 6)};
        case 8: return TakeShim{at};
        case 9: return MakeCheck{measure::checks()[static_cast<std::size_t>(up_to(e, 22))].check};
        case 10: return Repair{shop::faults()[static_cast<std::size_t>(up_to(e, 16))].fault};
        default: return SetValue{"board.width", fmt::format("{} mm", 300 + up_to(e, 20))};
    }
}

}  // namespace

TEST_CASE("any sequence of act, undo and redo equals a list with a cursor") {
    CHECK(holds("history equals a list with a cursor", [](const std::vector<std::uint8_t>& moves) {
        History history(saw());
        std::vector<int> list;
        std::size_t cursor = 0;
        int next = 0;
        std::size_t entries = 0;
        for (const std::uint8_t move : moves) {
            if (move % 5 < 2) {
                list.resize(cursor);
                list.push_back(next);
                ++cursor;
                RC_ASSERT(history.act(action(next++)).has_value());
                ++entries;
            } else if (move % 5 < 4) {
                entries += cursor > 0 ? 1 : 0;
                RC_ASSERT(history.take_back().has_value() == (cursor > 0));
                cursor -= cursor > 0 ? 1 : 0;
            } else {
                entries += cursor < list.size() ? 1 : 0;
                RC_ASSERT(history.do_again().has_value() == (cursor < list.size()));
                cursor += cursor < list.size() ? 1 : 0;
            }
            RC_ASSERT(same(history.actions(), list, cursor));
            RC_ASSERT(history.can_take_back() == (cursor > 0));
            RC_ASSERT(history.can_do_again() == (cursor < list.size()));
            RC_ASSERT(history.record().size() == entries);  // nothing leaves the record
        }
    }));
}

TEST_CASE("seventy steps back and seventy on: the states of the way there, though few of them were kept" *
          doctest::skip(repeats::sanitized)) {
    History h(saw(), 4);
    std::vector<std::string> reached{told(h)};
    for (int i = 0; i < 70; ++i) {
        REQUIRE(h.act(i % 10 == 9 ? Action(CutTest{}) : action(i)));
        reached.push_back(told(h));
    }
    for (std::size_t i = 70; i-- > 0;) {
        REQUIRE(h.take_back());
        REQUIRE(told(h) == reached[i]);
    }
    CHECK_FALSE(h.can_take_back());
    for (std::size_t i = 1; i <= 70; ++i) {
        REQUIRE(h.do_again());
        REQUIRE(told(h) == reached[i]);
    }
    CHECK_FALSE(h.can_do_again());
    CHECK(h.record().size() == 210);
}

TEST_CASE("random histories: undo, redo, replay and files give the bytes of a run from the start") {
    Engine e(20261128);
    constexpr int histories = repeats::of(60, 12);
    int taken_back = 0;
    for (int i = 0; i < histories; ++i) {
        CAPTURE(i);
        History h(saw(), e(), up_to(e, 3) == 0 ? measure::Precision::exact : measure::Precision::real);
        for (int k = 0; k < 40; ++k) {
            const int move = up_to(e, 9);
            if (move < 2) taken_back += h.take_back() ? 1 : 0;
            else if (move == 2) (void)h.do_again();
            else if (move == 3) (void)h.act(Actions{any_action(e), any_action(e), any_action(e)});
            else (void)h.act(any_action(e));
        }
        History from_the_start(h.start(), h.seen().seed, h.seen().precision);
        for (const Action& a : h.actions()) REQUIRE(from_the_start.act(a));
        REQUIRE(told(h) == told(from_the_start));
        const std::string file = session::to_text(session::log_of(h));
        const auto replay = session::replay(file, "random.jsonl");
        if (!replay) FAIL(replay.error().message);
        REQUIRE(told(replay->history) == told(h));
        REQUIRE(session::to_text(session::log_of(replay->history)) == file);
        REQUIRE(replay->history.record().size() == h.record().size());
        // The next step forward and back are those of the session that was saved, too.
        History other = replay->history;
        REQUIRE(other.take_back().has_value() == h.take_back().has_value());
        REQUIRE(told(other) == told(h));
        REQUIRE(other.do_again().has_value() == h.do_again().has_value());
        REQUIRE(told(other) == told(h));
    }
    CHECK(taken_back > histories);
}

TEST_CASE("an intention is done whole or not at all, and taken back whole") {
    History h(saw(), 4);
    REQUIRE(h.act(Actions{CutTest{}, Read{End::fence}, Read{End::far}, WorkOut{}}));
    const std::string before = told(h);
    const std::size_t entries = h.record().size();
    const auto refused = h.act(Actions{PutShim{At::left, 1}, MakeCheck{measure::Check::jaws}, PutShim{At::left, 99}});
    REQUIRE_FALSE(refused);
    CHECK(has(refused.error().message, "action 7 (Put line 99 of the drawer"));
    CHECK(told(h) == before);
    CHECK(h.record().size() == entries);

    REQUIRE(h.act(Actions{PutShim{At::left, 1}, PutShim{At::left, 2}}));
    CHECK(h.last_intention(base::Units::metric) ==
          session::sentence_of(PutShim{At::left, 1}, saw().drawing, base::Units::metric) + " And 1 step more with it.");
    CHECK(h.seen().behind_left.size() == 2);
    REQUIRE(h.take_back());
    CHECK(told(h) == before);
    CHECK(h.record()[entries].taken_back);
    CHECK(h.record()[entries + 1].taken_back);
    CHECK(h.record().back().kind == Entry::Kind::take_back);
    REQUIRE(h.do_again());
    CHECK_FALSE(h.record()[entries + 1].taken_back);
    CHECK(h.seen().behind_left.size() == 2);
    REQUIRE(h.take_back());
    REQUIRE(h.take_back());
    CHECK(h.seen().events.empty());
}

TEST_CASE("what is not possible changes nothing: not the clamping, not the chance, not the drawer") {
    // A blade that is down: no strip comes of a test, which is refused. The shim has loosened the fence before.
    scenario::Scenario down = saw();
    down.drawing.blade.height_mm = 0.0;
    down.truth->clamp_creep_rad = 1e-3;
    History h(down, 3);
    REQUIRE(h.act(PutShim{At::left, 1}));
    const std::string before = told(h);
    const double skew = both_sides::skew_now_rad(h);
    REQUIRE_FALSE(h.act(MakeCheck{measure::Check::five_cut}));
    CHECK(told(h) == before);
    CHECK(h.seen().clamped_again == 0);
    CHECK(both_sides::skew_now_rad(h) == skew);
    // The next check reads what it would have read without the refusal.
    History plain(down, 3);
    REQUIRE(plain.act(PutShim{At::left, 1}));
    REQUIRE(plain.act(MakeCheck{measure::Check::jaws}));
    REQUIRE(h.act(MakeCheck{measure::Check::jaws}));
    CHECK(told(h) == told(plain));
    // Nor do random ones.
    Engine e(7);
    int refused = 0;
    std::string was = told(h);
    for (int i = 0; i < repeats::of(60, 25); ++i) {
        const bool done = h.act(any_action(e)).has_value();
        const std::string is = told(h);
        if (!done) REQUIRE(is == was);
        refused += done ? 0 : 1;
        was = is;
    }
    CHECK(refused > 5);
}

TEST_CASE("a file with intentions and with what was taken back is of format 2, one without is of format 1") {
    History h(saw(), 4);
    REQUIRE(h.act(CutTest{}));
    CHECK(session::to_text(session::log_of(h)).starts_with("{\"offsquare_session\":1,"));
    REQUIRE(h.act(Actions{PutShim{At::left, 1}, PutShim{At::left, 2}}));
    REQUIRE(h.take_back());
    REQUIRE(h.act(MakeCheck{measure::Check::jaws}));
    const std::string text = session::to_text(session::log_of(h));
    CHECK(text.starts_with("{\"offsquare_session\":2,"));
    CHECK(has(text, "{\"do\":\"put-shim\",\"at\":\"left\",\"drawer_line\":2,\"joins\":true,"));
    CHECK(has(text, "{\"do\":\"take-back\",\"n\":4,\"says\":\"Taken back: Put "));
    const auto replay = session::replay(text, "x.jsonl");
    if (!replay) FAIL(replay.error().message);
    CHECK(replay->history.actions().size() == 2);
    // Hostile forms of it.
    const std::string head = text.substr(0, text.find('\n') + 1);
    for (const char* line : {"{\"do\":\"take-back\"}", "{\"do\":\"again\"}", "{\"do\":\"cut\",\"joins\":true}",
                             "{\"do\":\"cut\",\"joins\":1}"}) {
        CAPTURE(line);
        const auto bad = session::replay(head + line + "\n", "x.jsonl");
        REQUIRE_FALSE(bad);
        CHECK(bad.error().grade == base::Grade::bad_data);
        CHECK(has(bad.error().message, "x.jsonl:2:"));
    }
}
