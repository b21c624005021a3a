// One attempt at a case: what practice allows, what ends it, and its file.
#include "hunting.h"
#include "lesson/hand_in.h"
#include "session/log.h"
#include "session/reveal.h"

namespace hunt_test {

using namespace hunting;
using lesson::AskedHint;

TEST_CASE("what was done costs, and nothing of it is ever given back or set") {
    Hunt hunt = hunt_on("two-boards");
    REQUIRE(hunt.minutes_left());
    const double minutes = *hunt.minutes_left();
    REQUIRE(hunt.make(check(Check::fence_straightedge)));
    CHECK(*hunt.minutes_left() == doctest::Approx(minutes - measure::info(Check::fence_straightedge).minutes));
    for (const session::Action& bad :
         {session::Action(session::SetValue{"faults.fence_skew", "0"}), session::Action(session::TypeReadings{}),
          session::Action(session::PutThickness{shim::At::left, 0.2})}) {
        const std::size_t before = hunt.moves().size();
        CHECK(!hunt.make(Did{{bad}}));
        CHECK(hunt.moves().size() == before);
    }
    CHECK(!hunt.make(Did{}));
}

TEST_CASE("suspects: each once, how sure from 0 to 100, and who is believed in more than half is named") {
    Hunt hunt = hunt_on("two-boards");
    REQUIRE(
        hunt.make(Suspects{{{Fault::fence_bow, 80}, {Fault::dust, 50}, {Fault::edge_bow, 51}}, {Fault::blade_toe}}));
    CHECK(lesson::named_by(hunt.suspects()) == std::vector<Fault>{Fault::fence_bow, Fault::edge_bow});
    CHECK(!hunt.make(Suspects{{{Fault::dust, 101}}, {}}));
    CHECK(!hunt.make(Suspects{{{Fault::dust, 10}}, {Fault::dust}}));
    CHECK(!hunt.make(Suspects{{{Fault::dust, 10}, {Fault::dust, 20}}, {}}));
    CHECK(hunt.suspects().order.size() == 3);
}

TEST_CASE("hints go up and never down, begin anew after something was done, and each is counted once") {
    Hunt hunt = hunt_on("two-boards");
    REQUIRE(hunt.make(AskedHint{1}));
    REQUIRE(hunt.make(AskedHint{1}));
    REQUIRE(hunt.make(AskedHint{3}));
    CHECK(!hunt.make(AskedHint{2}));
    CHECK(!hunt.make(AskedHint{4}));
    CHECK(hunt.hints_asked() == 2);
    REQUIRE(hunt.make(check(Check::fence_straightedge)));
    CHECK(hunt.hint_now() == 0);
    REQUIRE(hunt.make(AskedHint{2}));
    CHECK(hunt.hints_asked() == 3);
}

TEST_CASE("it closes as proved only where it is, as undecided or given up at any time, and once") {
    Hunt hunt = hunt_on("old-vernier");
    CHECK(!hunt.make(Close{Ending::proved, {}, 90}));
    CHECK(!hunt.make(Close{Ending::ran_out, {}, 90}));
    Hunt up = hunt;
    REQUIRE(up.make(Close{Ending::given_up, {}, 0}));
    CHECK(!up.make(check(Check::wiggle)));
    CHECK(!up.make(AskedHint{1}));
    CHECK(!up.make(Close{Ending::given_up, {}, 0}));
    REQUIRE(hunt.make(Close{Ending::undecidable, {}, 70}));
    CHECK(hunt.closed()->how == Ending::undecidable);
}

TEST_CASE("minutes and board run out: what goes over is done, and ends it") {
    const lesson::Case* c = lesson::find_case("two-boards");
    REQUIRE(c != nullptr);
    scenario::Scenario s = c->scenario;
    s.budget = {30.0, 0.0};
    Hunt hunt(s, 3);
    CHECK(!hunt.board_left_mm());
    int tests = 0;
    while (!hunt.closed()) {
        const Did did = test();
        const bool over = hunt.runs_out_by(did.intention);
        REQUIRE(hunt.make(did));
        CHECK(hunt.closed().has_value() == over);
        ++tests;
    }
    CHECK(hunt.closed()->how == Ending::ran_out);
    CHECK(hunt.seen().minutes > 30.0);
    // The board alone.
    s.budget = {0.0, 1.0};
    Hunt board(s, 3);
    CHECK(!board.minutes_left());
    REQUIRE(board.make(test()));
    CHECK(board.closed()->how == Ending::ran_out);
}

Hunt whole_hunt() {
    Hunt hunt = hunt_on("two-boards");
    CHECK(hunt.make(Suspects{{{Fault::fence_bow, 40}, {Fault::fence_skew, 30}}, {}}));
    CHECK(hunt.make(AskedHint{1}));
    CHECK(hunt.make(check(Check::fence_straightedge)));
    CHECK(hunt.make(Suspects{{{Fault::fence_bow, 90}}, {Fault::dust}}));
    CHECK(hunt.make(Did{{session::Repair{Fault::fence_bow}}}));
    CHECK(hunt.make(test()));
    CHECK(hunt.make(Close{Ending::given_up, {Fault::fence_bow}, 60}));
    return hunt;
}

TEST_CASE("a hand-in replays to the same bytes, checks itself, and tells nothing of the truth") {
    const Hunt hunt = whole_hunt();
    const std::string text = lesson::to_text(hunt);
    const auto again = lesson::hand_in_of(text, "a.jsonl");
    REQUIRE(again);
    CHECK(lesson::to_text(again->hunt) == text);
    CHECK(again->hunt.closed()->named == hunt.closed()->named);
    CHECK(lesson::is_hand_in(text));
    // Neither a size as the file has it nor the block that holds them.
    for (const char* word : {"faults", "[faults]", "fence_bow =", "truth"}) CHECK(text.find(word) == std::string::npos);
    // A number that was changed is found out, with its line.
    std::string changed = text;
    const std::size_t at = changed.find("\"read_mm\":[") + 11;
    changed.insert(at, "1");
    const auto refused = lesson::hand_in_of(changed, "a.jsonl");
    REQUIRE(!refused);
    CHECK(refused.error().message.find("a.jsonl:4: the replay differs") == 0);
}

TEST_CASE("a hand-in that was cut off loses its last line, and a bad one is refused with its line") {
    const std::string text = lesson::to_text(whole_hunt());
    const auto cut = lesson::hand_in_of(std::string_view(text).substr(0, text.size() - 20), "a");
    REQUIRE(cut);
    CHECK(!cut->hunt.closed());
    CHECK(cut->notes.size() == 1);
    const std::string head = text.substr(0, text.find('\n') + 1);
    for (const auto& [line, says] : {std::pair{"{\"hint\":7}", "there are hints 1 to 3"},
                                     {"{\"jump\":1}", "this is no move"},
                                     {"{\"suspects\":[[\"fence\",3]]}", "expected a pair"},
                                     {"{\"close\":\"won\"}", "expected proved"},
                                     {"{\"close\":\"ran-out\"}", "expected proved"},
                                     {"{\"do\":[{\"do\":\"fly\"}]}", "fly"},
                                     {"[1]", "this is not a line of a hand-in"}}) {
        const auto bad = lesson::hand_in_of(head + line + "\n", "a");
        REQUIRE(!bad);
        CHECK(bad.error().grade == base::Grade::bad_data);
        CHECK_MESSAGE(bad.error().message.find("a:2: ") == 0, bad.error().message);
        CHECK_MESSAGE(bad.error().message.find(says) != std::string::npos, bad.error().message);
    }
    std::string spoiled = text;
    spoiled[spoiled.find("\"sealed\":\"") + 30] ^= 1;
    CHECK(!lesson::hand_in_of(spoiled, "a"));
    CHECK(!lesson::hand_in_of("", "a"));
}

TEST_CASE("the file of a session of a case has what is wrong with it obscured, and of any other saw in clear") {
    const lesson::Case* c = lesson::find_case("two-boards");
    REQUIRE(c != nullptr);
    const auto text_of = [](const scenario::Scenario& s) {
        return session::to_text(session::log_of(session::History(s)));
    };
    const std::string sealed = text_of(c->scenario);
    CHECK(sealed.find("faults") == std::string::npos);
    const auto opened = session::replay(sealed, "x");
    REQUIRE(opened);
    CHECK(session::reveal(opened->history).sizes == session::reveal(c->scenario).sizes);
    scenario::Scenario no_case = c->scenario;
    no_case.complaint.clear();
    CHECK(text_of(no_case).find("[faults]") != std::string::npos);
}

}  // namespace hunt_test
