// Sleds on the disk: found by name, one writer at a time, nothing lost.
#include <doctest/doctest.h>

#include <fstream>

#include "base/scratch.h"
#include "logs.h"
#include "saws/form.h"
#include "saws/store.h"

namespace store_test {

using namespace logs;
namespace fs = std::filesystem;

TEST_CASE("made, found by name or by its saw, saved, renamed, deleted") {
    const scratch::Folder folder;
    const Store store(folder.path);
    CHECK(store.list().empty());
    CHECK(!store.open("the blue sled"));
    {
        auto held = store.make("The Blue Sled", "cabinet saw", base::Units::metric);
        REQUIRE(held);
        CHECK(held->may_write());
        CHECK(held->file.filename() == "the-blue-sled.jsonl");
        CHECK(!store.make("the blue SLED", "", base::Units::metric));
        auto sled = added(held->sled, Remark{"new"}, today, today);
        REQUIRE(sled);
        REQUIRE(store.save(*held, *sled));
        CHECK(held->sled.entries.size() == 1);
    }
    const auto again = store.open("cabinet saw");
    REQUIRE(again);
    CHECK(again->sled.name == "The Blue Sled");
    CHECK(again->sled.entries.size() == 1);
    auto other = store.make("red sled!", "cabinet saw", base::Units::imperial);
    REQUIRE(other);
    CHECK(!store.open("cabinet saw"));  // it has two sleds now
    REQUIRE(store.rename(*other, "green sled", "bench saw"));
    CHECK(!store.rename(*other, "the blue sled", ""));
    CHECK(store.list().size() == 2);
    REQUIRE(store.remove(std::move(*other)));
    CHECK(store.list().size() == 1);
}

TEST_CASE("two at once: the second is told, may look, and may not write") {
    const scratch::Folder folder;
    const Store store(folder.path);
    auto first = store.make("a", "", base::Units::metric);
    REQUIRE(first);
    auto second = store.open("a");
    REQUIRE(second);
    CHECK(!second->may_write());
    CHECK(second->why_not.find("another") != std::string::npos);
    CHECK(!store.save(*second, second->sled));
    CHECK(!store.remove(std::move(*second)));
    REQUIRE(store.look("a"));
    CHECK(!store.look("a")->may_write());
    first->lock.reset();
    CHECK(store.open("a")->may_write());
    int left = 0;
    for (const auto& e : fs::directory_iterator(store.folder())) left += e.path().extension() == ".jsonl" ? 0 : 1;
    CHECK(left == 0);  // no lock lies about
}

TEST_CASE("a file that cannot be read is listed with its reason and never overwritten") {
    const scratch::Folder folder;
    const Store store(folder.path);
    REQUIRE(store.make("con", "", base::Units::metric));
    CHECK(store.list().front().file.filename() == "sled-con.jsonl");
    std::ofstream(store.folder() / "later.jsonl") << "{\"offsquare_sled\":7,\"name\":\"later\"}\n";
    const auto all = store.list();
    REQUIRE(all.size() == 2);
    CHECK(all.front().trouble.find("another format") != std::string::npos);
    CHECK(!store.open("later"));
    auto made = store.make("later", "", base::Units::metric);
    REQUIRE(made);
    CHECK(made->file.filename() == "later-2.jsonl");
}

}  // namespace store_test
