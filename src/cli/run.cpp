#include "cli/run.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <fmt/format.h>
#include <iostream>
#include <unistd.h>

#include "cli/arguments.h"
#include "cli/request.h"
#include "cli/verb.h"
#include "cli/verbs.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

using Words = std::vector<std::string>;

std::vector<std::string> verb_names() {
    std::vector<std::string> names = {"help"};
    for (const VerbInfo& verb : verbs()) names.emplace_back(verb.name);
    return names;
}

/// Colour only on a terminal that takes it, when nobody has said otherwise.
bool terminal_takes_colour(const std::ostream& out) {
    if (&out != &std::cout || ::isatty(STDOUT_FILENO) == 0) return false;
    const char* no_colour = std::getenv("NO_COLOR");
    const char* term = std::getenv("TERM");
    return (no_colour == nullptr || *no_colour == '\0') && term != nullptr && std::strcmp(term, "dumb") != 0;
}

Result<Ink> ink_of(const Arguments& arguments, const std::ostream& out) {
    const auto when = word_of("--colour", arguments.one("--colour").value_or("auto"), {"auto", "always", "never"});
    if (!when) return tl::unexpected(when.error());
    return Ink{*when == "always" || (*when == "auto" && terminal_takes_colour(out))};
}

Result<Answer> help_answer(const Words& words) {
    if (words.size() < 2) return Answer{help_text(), {}, 0};
    const VerbInfo* verb = find_verb(words[1]);
    if (verb == nullptr)
        return fail(Grade::usage,
                    fmt::format("there is no verb {}{}", in_quotes(words[1]), did_you_mean(words[1], verb_names())));
    return Answer{help_text(*verb), {}, 0};
}

Result<Answer> unknown_verb(const std::string& word) {
    if (word.starts_with("-")) {
        return fail(Grade::usage, fmt::format("there is no option {} before a verb{}", in_quotes(word),
                                              did_you_mean(word, {"--help", "--version"})));
    }
    const std::string hint = did_you_mean(word, verb_names());
    const bool a_file = hint.empty() && word.find('.') != std::string::npos;
    return fail(Grade::usage,
                fmt::format("there is no verb {}{}{}", in_quotes(word), hint,
                            a_file ? fmt::format("; to test a scenario: offsquare cut {}", printable(word)) : ""));
}

/// Where a person can be asked: both ends of the talk are a terminal.
std::ostream* asked_on(std::ostream& err, const std::istream& in) {
    const bool talks =
        &in == &std::cin && &err == &std::cerr && ::isatty(STDIN_FILENO) != 0 && ::isatty(STDERR_FILENO) != 0;
    return talks ? &err : nullptr;
}

Result<Answer> answer_to(const Words& words, std::ostream& out, std::ostream& err, std::istream& in) {
    if (words.empty()) return fail(Grade::usage, no_window_sentence("nothing was asked for in words"));
    const std::string& first = words.front();
    if (first == "--help" || first == "-h" || first == "help") return help_answer(words);
    if (first == "--version") return Answer{version_text(), {}, 0};
    const VerbInfo* verb = find_verb(first);
    if (verb == nullptr) return unknown_verb(first);
    const auto arguments = arguments_of(*verb, Words(words.begin() + 1, words.end()));
    if (!arguments) return tl::unexpected(arguments.error());
    if (arguments->has("--help")) return Answer{help_text(*verb), {}, 0};
    const auto ink = ink_of(*arguments, out);
    if (!ink) return tl::unexpected(ink.error());
    return verb->answer(*arguments, Door{in, *ink, asked_on(err, in), &out});
}

int tell(const base::Problem& problem, const Words& words, std::ostream& err) {
    err << "offsquare: " << printable(problem.message) << "\n";
    if (problem.grade == Grade::usage) {
        const bool known = !words.empty() && find_verb(words.front()) != nullptr;
        err << "See: offsquare " << (known ? words.front() + " --help" : std::string("--help")) << "\n";
    }
    err.flush();
    return static_cast<int>(problem.grade);
}

/// 74 when the data cannot be written, except that a reader who has gone away is no trouble.
int deliver(const Answer& answer, std::ostream& out, std::ostream& err) {
    for (const std::string& note : answer.notes) err << "offsquare: " << printable(note) << "\n";
    err.flush();
    errno = 0;
    out << answer.out;
    out.flush();
    if (out || errno == EPIPE) return answer.code;
    err << "offsquare: cannot write the output" << (errno != 0 ? std::string(": ") + std::strerror(errno) : "") << "\n";
    return static_cast<int>(Grade::io);
}

int run_words(const Words& words, std::ostream& out, std::ostream& err, std::istream& in) {
    const auto answer = answer_to(words, out, err, in);
    return answer ? deliver(*answer, out, err) : tell(answer.error(), words, err);
}

Words words_of(int argc, const char* const* argv) { return argc > 1 ? Words(argv + 1, argv + argc) : Words{}; }

}  // namespace

Result<Answer> window_verb_answer(const Arguments& arguments, const Door& /*door*/) {
    if (const auto units = units_of(arguments, base::Units::metric); !units) return tl::unexpected(units.error());
    return fail(Grade::usage, no_window_sentence("this program was built without it, or its options are not complete"));
}

std::string no_window_sentence(const std::string& why) {
    return fmt::format(
        "the window cannot be opened: {}.\nThe same job as text: offsquare job\nAll that can be done as text: "
        "offsquare --help",
        why);
}

std::optional<WindowWish> window_wish(int argc, const char* const* argv) {
    const Words words = words_of(argc, argv);
    if (words.empty()) return WindowWish{};
    if (words.front() != "window") return std::nullopt;
    const auto arguments = arguments_of(*find_verb("window"), Words(words.begin() + 1, words.end()));
    if (!arguments || arguments->has("--help")) return std::nullopt;
    const std::string operand = arguments->operand.value_or("");
    if (operand == "-") return std::nullopt;
    const auto units = units_of(*arguments, base::Units::metric);
    if (!units) return std::nullopt;
    return WindowWish{operand, arguments->one("--screenshot").value_or(""), units->angles == base::Units::Angles::mrad};
}

int run(int argc, const char* const* argv, std::ostream& out, std::ostream& err, std::istream& in) {
    try {
        return run_words(words_of(argc, argv), out, err, in);
    } catch (const std::exception& e) {
        err << "offsquare: this is a fault of offsquare, not yours: " << printable(e.what()) << "\n";
    } catch (...) {
        err << "offsquare: this is a fault of offsquare, not yours\n";
    }
    return static_cast<int>(Grade::our_fault);
}

}  // namespace offsquare::cli
