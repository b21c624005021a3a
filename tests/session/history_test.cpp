// Undo and redo against a list with a cursor.
#include <doctest/doctest.h>

#include <rapidcheck.h>

#include "base/property.h"
#include "session/job.h"

using namespace job;
using session::History;

namespace {

/// Actions told apart by a number.
Action action(int id) { return Read{End::fence, static_cast<double>(id)}; }
double id_of(const Action& a) { return std::get<Read>(a).station_mm; }

bool same(const std::vector<Action>& a, const std::vector<int>& b, std::size_t n) {
    if (a.size() != n) return false;
    for (std::size_t i = 0; i < n; ++i) {
        if (id_of(a[i]) != b[i]) return false;
    }
    return true;
}

}  // namespace

TEST_CASE("any sequence of add, undo and redo equals a list with a cursor") {
    CHECK(holds("history equals a list with a cursor", [](const std::vector<std::uint8_t>& moves) {
        History history;
        std::vector<int> list;
        std::size_t cursor = 0;
        int next = 0;
        for (const std::uint8_t move : moves) {
            if (move % 5 < 2) {
                list.resize(cursor);
                list.push_back(next);
                ++cursor;
                history.add(action(next++));
            } else if (move % 5 < 4) {
                cursor -= cursor > 0 ? 1 : 0;
                history.undo();
            } else {
                cursor += cursor < list.size() ? 1 : 0;
                history.redo();
            }
            RC_ASSERT(same(history.done(), list, cursor));
            RC_ASSERT(history.can_undo() == (cursor > 0));
            RC_ASSERT(history.can_redo() == (cursor < list.size()));
        }
    }));
}

TEST_CASE("as many undos as redos give the list back; an action after an undo forgets the rest") {
    CHECK(holds("undo and redo cancel", [](std::uint8_t length, std::uint8_t back) {
        History history;
        for (int i = 0; i < length; ++i) history.add(action(i));
        for (int i = 0; i < back; ++i) history.undo();
        for (int i = 0; i < back; ++i) history.redo();
        RC_ASSERT(history.done().size() == length);
        RC_ASSERT(!history.can_redo());
    }));
    History h;
    h.add(action(1));
    h.add(action(2));
    h.undo();
    h.add(action(3));
    CHECK_FALSE(h.can_redo());
    CHECK(id_of(h.done().back()) == 3.0);
}

TEST_CASE("clear and load start afresh") {
    History h;
    h.add(action(1));
    h.undo();
    h.load({action(5), action(6)});
    CHECK(h.done().size() == 2);
    CHECK_FALSE(h.can_redo());
    h.undo();
    CHECK(h.can_redo());
    h.clear();
    CHECK_FALSE(h.can_undo());
    CHECK_FALSE(h.can_redo());
}

TEST_CASE("undoing an action of a session is as if it had never been") {
    History h;
    for (const Action& a : cut_and_read()) h.add(a);
    const auto before = session::run(saw(), h.done(), 4);
    h.add(PutShim{At::left, 3});
    h.add(Read{End::far});
    h.undo();
    h.undo();
    const auto after = session::run(saw(), h.done(), 4);
    REQUIRE(before);
    REQUIRE(after);
    CHECK(before->tests[0].skew_rad->value == after->tests[0].skew_rad->value);
    CHECK(before->left_in_drawer == after->left_in_drawer);
    h.redo();
    h.redo();
    CHECK(h.done().size() == 5);
}
