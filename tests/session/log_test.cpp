// Sessions as files: back and forth, tampered with, cut off, hostile.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include <nlohmann/json.hpp>

#include "repeats.h"
#include "session/job.h"

using namespace job;
using measure::Precision;
using session::Log;

namespace {

Log one_job(std::uint64_t seed = 6, Precision precision = Precision::real) {
    return job::log_of(saw(), seed, precision,
                       cut_and_read() +
                           Actions{Read{End::far, 2.5}, WorkOut{}, PutShim{At::left, 2}, PutShim{At::left, 4},
                                   TakeShim{At::left}, PutThickness{At::right, 0.0123456789}} +
                           cut_and_read() +
                           Actions{SetValue{"caliper.limit", "0.02 mm"},
                                   session::SetBoth{{"board.width", "301 mm"}, {"board.length", "12 in"}}, CutTest{}});
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::size_t from = 0;
    while (from < text.size()) {
        const std::size_t to = std::min(text.find('\n', from), text.size());
        lines.push_back(text.substr(from, to - from));
        from = to + 1;
    }
    return lines;
}

std::string joined(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& l : lines) text += l + "\n";
    return text;
}

std::string head() { return lines_of(session::to_text({saw(), 1, Precision::real, {}})).front() + "\n"; }

/// The problem of a file that must be refused.
base::Problem refused(const std::string& text) {
    const auto r = session::replay(text, "job.jsonl");
    REQUIRE_FALSE(r);
    CHECK(r.error().grade == base::Grade::bad_data);
    CHECK(r.error().message.find("job.jsonl") != std::string::npos);
    return r.error();
}

}  // namespace

TEST_CASE("a session written and replayed is the same session") {
    for (const Precision precision : {Precision::real, Precision::exact}) {
        for (const std::uint64_t seed : {std::uint64_t{0}, std::uint64_t{6}, ~std::uint64_t{0}}) {
            const Log log = one_job(seed, precision);
            const std::string text = session::to_text(log);
            const auto replay = session::replay(text, "job.jsonl");
            if (!replay) FAIL(replay.error().message);
            CHECK(replay->notes.empty());
            CHECK(replay->log.seed == seed);
            CHECK(replay->log.precision == precision);
            CHECK(replay->log.entries.size() == log.entries.size());
            CHECK(session::to_text(replay->log) == text);  // actions, sentences and numbers
            const auto run = session::run(log.scenario, replay->history.actions(), seed, precision);
            REQUIRE(run);
            CHECK(both_sides::skew_now_rad(replay->history) == both_sides::skew_now_rad(*run));
            CHECK(replay->history.seen().stage == run->seen().stage);
            CHECK(replay->history.seen().left_in_drawer == run->seen().left_in_drawer);
            REQUIRE(replay->history.seen().tests.size() == run->seen().tests.size());
        }
    }
}

TEST_CASE("each line holds its number, its sentence and what came of it") {
    const auto lines = lines_of(session::to_text(one_job()));
    REQUIRE(lines.size() == 16);  // the head and 14 actions
    const auto read = nlohmann::json::parse(lines[3]);
    CHECK(read["n"] == 3);
    CHECK(read["do"] == "read");
    CHECK(read["end"] == "far");
    CHECK(read["says"] == "Read the strip at its far end.");
    const auto run = job::run(saw(), cut_and_read(), 6);
    CHECK(read["then"]["fence_skew_rad"] == run->tests[0].skew_rad->value);
    CHECK(read["then"]["far_end_mm"] == run->tests[0].far_end[0].value_mm);
}

TEST_CASE("a number that was changed is found: line, action, both numbers") {
    const std::string text = session::to_text(one_job());
    const auto lines = lines_of(text);
    int tampered = 0;
    for (std::size_t i = 1; i < lines.size(); ++i) {
        auto json = nlohmann::ordered_json::parse(lines[i]);
        for (auto& [key, value] : json["then"].items()) {
            auto changed = json;
            const std::string was = value.dump();
            if (value.is_number_float()) changed["then"][key] = value.get<double>() * (1.0 + 1e-15) + 1e-16;
            else if (value.is_number()) changed["then"][key] = 77;
            else changed["then"][key] = "other";
            const std::string is = changed["then"][key].dump();
            REQUIRE(is != was);
            auto all = lines;
            all[i] = changed.dump();
            const std::string message = refused(joined(all)).message;
            CAPTURE(message);
            REQUIRE(has(message, "job.jsonl:" + std::to_string(i + 1) + ":"));
            REQUIRE(has(message, "after action " + std::to_string(i) + ":"));
            REQUIRE(has(message, key + " was " + is + " and is now " + was));
            ++tampered;
        }
    }
    CHECK(tampered > 60);
}

TEST_CASE("another seed, or another action, does not fit the numbers") {
    auto lines = lines_of(session::to_text(one_job()));
    auto first = nlohmann::ordered_json::parse(lines[0]);
    first["seed"] = 7;
    auto other_seed = lines;
    other_seed[0] = first.dump();
    CHECK(has(refused(joined(other_seed)).message, "the replay differs after action"));
    auto swapped = lines;
    std::swap(swapped[2], swapped[3]);
    CHECK(has(refused(joined(swapped)).message, "the replay differs after action 2"));
    auto dropped = lines;
    dropped.erase(dropped.begin() + 7);
    refused(joined(dropped));
}

TEST_CASE("a session that a crash cut off anywhere in its last line is replayed without it") {
    const std::string text = session::to_text(one_job());
    const auto lines = lines_of(text);
    const std::size_t last = text.size() - lines.back().size() - 1;
    for (std::size_t keep = 1; keep < lines.back().size(); keep += 3) {
        const auto replay = session::replay(text.substr(0, last + keep), "job.jsonl");
        if (!replay) FAIL(replay.error().message);
        REQUIRE(replay->log.entries.size() == lines.size() - 2);
        REQUIRE(replay->notes.size() == 1);
    }
    // Whole but for its line end: nothing is lost. A broken line in the middle is an error.
    CHECK(session::replay(text.substr(0, text.size() - 1), "job.jsonl")->log.entries.size() == lines.size() - 1);
    auto broken = lines;
    broken[4] = broken[4].substr(0, 20);
    CHECK(has(refused(joined(broken)).message, "job.jsonl:5:"));
}

TEST_CASE("a session of another version of the program says so") {
    auto lines = lines_of(session::to_text(one_job()));
    auto first = nlohmann::ordered_json::parse(lines[0]);
    first["program"] = "9.9.9";
    lines[0] = first.dump();
    const auto replay = session::replay(joined(lines), "job.jsonl");
    REQUIRE(replay);
    REQUIRE(replay->notes.size() == 1);
    CHECK(has(replay->notes[0], "9.9.9"));
}

TEST_CASE("hostile first lines are bad data") {
    const std::string scenario = nlohmann::json(scenario::to_text(saw())).dump();
    const auto first = [&](const std::string& version, const std::string& seed, const std::string& readings) {
        return "{\"offsquare_session\":" + version + ",\"program\":\"0.1.0\",\"seed\":" + seed +
               ",\"readings\":" + readings + ",\"scenario\":" + scenario + "}\n";
    };
    REQUIRE(session::replay(first("1", "1", "\"real\""), "job.jsonl"));
    for (const char* seed : {"-1", "1.5", "\"1\"", "null", "[1]", "1e999", "18446744073709551616", "true"}) {
        CAPTURE(seed);
        refused(first("1", seed, "\"real\""));
    }
    for (const char* version : {"3", "0", "1.5", "\"1\"", "null", "1e999", "{}"})
        refused(first(version, "1", "\"real\""));
    for (const char* readings : {"\"exakt\"", "1", "null"}) refused(first("1", "1", readings));
    refused("{\"offsquare_session\":1,\"seed\":1,\"readings\":\"real\"}\n");
    refused("{\"offsquare_session\":1,\"seed\":1,\"readings\":\"real\",\"scenario\":5}\n");
    refused("{\"offsquare_session\":1,\"seed\":1,\"readings\":\"real\",\"scenario\":\"[fence\\n\"}\n");
    refused("{}\n");
    refused("");
    refused("\n");
    refused("[]\n");
    refused("not json\n");
    refused(std::string("\0\0\0", 3));
    refused("\xff\xfe\n");
}

TEST_CASE("hostile lines are bad data and name their line") {
    const std::string deep_list(100000, '[');
    std::string deep_object;
    for (int i = 0; i < 100000; ++i) deep_object += "{\"a\":";
    for (const std::string& line : {
             deep_list,
             deep_object,
             std::string("{\"do\":\"cut\",\"x\":") + std::string(50, '[') + std::string(50, ']') + "}",
             std::string("{\"do\":\"cut\""),
             std::string("{\"do\":3}"),
             std::string("{\"do\":null}"),
             std::string("{}"),
             std::string("[]"),
             std::string("7"),
             std::string(),
             std::string("{\"do\":\"fly\"}"),
             std::string("{\"do\":\"set\"}"),
             std::string("{\"do\":\"set\",\"key\":5,\"value\":\"1\"}"),
             std::string("{\"do\":\"set\",\"key\":\"faults.fence_skew\",\"value\":1}"),
             std::string("{\"do\":\"read\"}"),
             std::string("{\"do\":\"read\",\"end\":\"middle\",\"in_mm\":0}"),
             std::string("{\"do\":\"read\",\"end\":\"far\",\"in_mm\":\"0\"}"),
             std::string("{\"do\":\"read\",\"end\":\"far\",\"in_mm\":1e999}"),
             std::string("{\"do\":\"read\",\"end\":\"far\",\"in_mm\":-1e308}"),
             std::string("{\"do\":\"put-shim\",\"at\":\"left\"}"),
             std::string("{\"do\":\"put-shim\",\"at\":\"none\",\"drawer_line\":0}"),
             std::string("{\"do\":\"put-shim\",\"at\":\"left\",\"drawer_line\":1.5}"),
             std::string("{\"do\":\"put-shim\",\"at\":\"left\",\"drawer_line\":1e300}"),
             std::string("{\"do\":\"put-shim\",\"at\":\"left\",\"drawer_line\":-1}"),
             std::string("{\"do\":\"put-shim\",\"at\":[\"left\"],\"drawer_line\":1}"),
             std::string("{\"do\":\"put-thickness\",\"at\":\"left\",\"thickness_mm\":1e6}"),
             std::string("{\"do\":\"put-thickness\",\"at\":\"left\",\"thickness_mm\":true}"),
             std::string("{\"do\":\"take-shim\",\"at\":\"left\"}"),
             std::string("{\"do\":\"work-out\"}"),
             std::string("{\"do\":\"cut\",\"do2\":\"\xff\"}"),
         }) {
        CAPTURE(line.substr(0, 80));
        const std::string message = refused(head() + line + "\n").message;
        REQUIRE(has(message, "job.jsonl:2:"));
        REQUIRE(message.size() < 2000);
    }
}

TEST_CASE("what is wrong in a line is named with its column, in characters from 1") {
    // "^" stands before what is wrong; it is not part of the line.
    for (std::string line : {
             std::string(R"({"do":"set","key":^5,"value":"1"})"),
             std::string(R"({"do":^"set","value":"1"})"),
             std::string(R"({"do":"read","end":^"middle","in_mm":0})"),
             std::string(R"({"do":"read","end":"far","in_mm":^"0"})"),
             std::string(R"({ "do" : "read" , "in_mm" : ^[1e3], "end" : "far" })"),
             std::string(R"({"do":"put-shim","at":^["left",{"at":1}],"drawer_line":1})"),
             std::string(R"({"do":"put-shim","at":"left","drawer_line":^1.5})"),
             std::string(R"({"do":^"put-shim","at":"left","drawer_line":77})"),  // no such line in the drawer
             std::string(R"({"do":^"take-shim","at":"left"})"),                  // none is there
             std::string(R"({"do":^"saw","at":"left"})"),
             std::string(R"({"says":"\"do\":3, \\","do":^3})"),               // words that look like a key
             std::string(R"({"says":"3½ × 2″ ü","do":"cut","brushed":^1})"),  // letters of several bytes
             std::string(R"({"x":{"do":"cut"},"do":"check","check":^"chek"})"),
             std::string(R"({"do":"cut","joins":^"yes"})"),
             std::string(R"({"do":"cut","n":1,"then":{"stage":"Read","tests":^7}})"),
             std::string(R"({"do":"cut" "n^":1})"),
             std::string(R"({"do":"cut","n":^})"),
             std::string(R"({"do":"cut","do2":"^)") + "\xff\"}",
         }) {
        const std::size_t byte = line.find('^');
        line.erase(byte, 1);
        CAPTURE(line);
        std::size_t column = 1;
        for (std::size_t i = 0; i < byte; ++i) column += (static_cast<unsigned char>(line[i]) & 0xC0U) != 0x80U ? 1 : 0;
        const std::string message = refused(head() + line + "\n").message;
        CAPTURE(message);
        CHECK(message.starts_with("job.jsonl:2:" + std::to_string(column) + ": "));
    }
    CHECK(has(refused("{\"offsquare_session\":1,\"seed\":-1}\n").message, "job.jsonl:1:31: "));
    CHECK(has(refused("{\"seed\":1}\n").message, "job.jsonl:1:1: "));
}

TEST_CASE("a file that lies about its own numbers or their types is told the truth, whatever n says") {
    for (const char* n : {"1", "\"one\"", "null", "1e300", "-5", "[]", "{\"a\":1}"}) {
        for (const char* then : {"{\"stage\":\"Nowhere\"}", "{\"tests\":\"1\"}", "{\"tests\":1e300}", "{\"colour\":1}",
                                 "{\"stage\":{\"a\":[1,2]}}"}) {
            const std::string line = std::string("{\"do\":\"cut\",\"n\":") + n + ",\"then\":" + then + "}\n";
            CAPTURE(line);
            REQUIRE(has(refused(head() + line).message, "after action 1:"));
        }
    }
}

TEST_CASE("a session of 10,000 actions replays; one of more is refused before anything is run" *
          doctest::skip(repeats::sanitized)) {
    Log log{saw(), 3, Precision::real, {}};
    for (std::size_t i = 0; i < session::most_entries; ++i) {
        if (i % 4 == 0) log.entries.push_back(CutTest{});
        else
            log.entries.push_back(i % 4 == 1   ? Action{Read{End::fence}}
                                  : i % 4 == 2 ? Action{Read{End::far}}
                                               : Action{WorkOut{}});
    }
    const std::string text = session::to_text(log);
    const auto replay = session::replay(text, "job.jsonl");
    if (!replay) FAIL(replay.error().message);
    CHECK(replay->log.entries.size() == 10000);
    CHECK(replay->history.seen().tests.size() == 2500);
    CHECK(replay->history.seen().tests.back().pooled_tests == 2500);
    CHECK(has(refused(text + "{\"do\":\"cut\"}\n").message, "10000 actions at most"));
    refused(head() + std::string(2000000, '\n'));
    // What cannot be replayed cannot be done: the same action at both doors.
    History full = replay->history;
    const auto one_more = full.act(CutTest{});
    REQUIRE_FALSE(one_more);
    CHECK(one_more.error().grade == base::Grade::usage);
    CHECK(has(one_more.error().message, "10000 actions at most"));
}

TEST_CASE("an impossible action is written as it was asked, and refused when it is read") {
    const std::string text = session::to_text({saw(), 1, Precision::real, {CutTest{}, TakeShim{At::left}, CutTest{}}});
    const auto lines = lines_of(text);
    REQUIRE(lines.size() == 4);
    CHECK_FALSE(has(lines[2], "\"then\""));
    const std::string message = refused(text).message;
    CHECK(has(message, "job.jsonl:3:"));
    CHECK(has(message, "action 2 ("));
}
