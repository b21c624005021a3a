#include "cli/arguments.h"

#include <algorithm>
#include <charconv>
#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <fmt/format.h>

#include "cli/suggest.h"
#include "cli/text.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

bool looks_like_option(std::string_view word) {
    return word.size() > 1 && word[0] == '-' && !(word[1] >= '0' && word[1] <= '9');
}

std::vector<std::string> long_names(const VerbInfo& verb) {
    std::vector<std::string> names;
    for (const OptionInfo& o : verb.options) names.emplace_back(o.name);
    return names;
}

// CLI11 2.1.2 takes the next word as the value of `--seed=`, and reads `--json=false` as a flag that is set. Both are
// refused before it sees them.
Result<void> refuse_odd_equals(const VerbInfo& verb, const std::vector<std::string>& words) {
    for (const std::string& word : words) {
        if (word == "--") break;
        const std::size_t equals = word.find('=');
        if (!word.starts_with("--") || equals == std::string::npos) continue;
        const OptionInfo* option = find_option(verb, word.substr(0, equals));
        if (option == nullptr) continue;
        if (option->value.empty())
            return fail(Grade::usage, fmt::format("{} takes no value, found {}", option->name, in_quotes(word)));
        if (equals + 1 == word.size())
            return fail(Grade::usage,
                        fmt::format("{} needs {}, found nothing after the =", option->name, option->value));
    }
    return {};
}

struct Bound {
    const OptionInfo* info;
    CLI::Option* option;
};

std::vector<Bound> bind(CLI::App& app, const VerbInfo& verb) {
    std::vector<Bound> bound;
    for (const OptionInfo& o : verb.options) {
        const std::string names =
            o.short_name.empty() ? std::string(o.name) : fmt::format("{},{}", o.short_name, o.name);
        // No variable is bound: CLI11 would read "{}" as an empty list and "[a,b]" as two values. The raw words are
        // taken.
        CLI::Option* option = o.value.empty() ? app.add_flag(names) : app.add_option(names);
        option->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
        bound.push_back({&o, option});
    }
    return bound;
}

Result<void> take_values(Arguments& arguments, const std::vector<Bound>& bound) {
    for (const auto& [info, option] : bound) {
        if (option->count() == 0) continue;
        if (info->value.empty()) {
            arguments.values[std::string(info->name)] = {""};
            continue;
        }
        if (option->count() > 1 && !info->many)
            return fail(Grade::usage, fmt::format("{} is given {} times, once is enough", info->name, option->count()));
        arguments.values[std::string(info->name)] = option->results();
    }
    return {};
}

Result<void> refuse_strangers(const VerbInfo& verb, const std::vector<std::string>& strangers) {
    for (const std::string& word : strangers) {
        if (word == "--") continue;
        if (looks_like_option(word)) {
            const std::string name = word.substr(0, word.find('='));
            return fail(Grade::usage, fmt::format("{} has no option {}{}", verb.name, in_quotes(name),
                                                  did_you_mean(name, long_names(verb))));
        }
        return fail(Grade::usage,
                    verb.operand.empty()
                        ? fmt::format("{} takes options only, found {}", verb.name, in_quotes(word))
                        : fmt::format("{} takes one {}, found {} as well", verb.name, verb.operand, in_quotes(word)));
    }
    return {};
}

// CLI11 words it "--seed: 1 required TEXT missing"; only the name is ours.
std::string missing_value_message(const VerbInfo& verb, const std::string& what) {
    const std::string name = what.substr(0, what.find_first_of(": "));
    const OptionInfo* option = find_option(verb, name);
    if (option == nullptr) return fmt::format("the options of {} are not understood ({})", verb.name, printable(what));
    return fmt::format("{} needs {} after it", option->name, option->value);
}

}  // namespace

std::optional<std::string> Arguments::one(const std::string& name) const {
    const auto it = values.find(name);
    if (it == values.end() || it->second.empty()) return std::nullopt;
    return it->second.front();
}

std::vector<std::string> Arguments::all(const std::string& name) const {
    const auto it = values.find(name);
    return it == values.end() ? std::vector<std::string>{} : it->second;
}

std::string in_quotes(std::string_view typed) {
    std::string shown = printable(typed);
    std::replace(shown.begin(), shown.end(), '\n', '?');
    if (shown.size() > 60) {
        std::size_t end = 57;
        while (end > 0 && (static_cast<unsigned char>(shown[end]) & 0xC0U) == 0x80U)
            --end;  // not in the middle of a character
        shown = shown.substr(0, end) + "…";
    }
    return "\"" + shown + "\"";
}

std::string did_you_mean(const std::string& typed, const std::vector<std::string>& words) {
    const std::string word = likely_word(typed, words);
    return word.empty() ? "" : ", did you mean \"" + word + "\"?";
}

Result<Arguments> arguments_of(const VerbInfo& verb, const std::vector<std::string>& words) {
    if (auto odd = refuse_odd_equals(verb, words); !odd) return tl::unexpected(odd.error());
    CLI::App app;
    app.set_help_flag();
    app.allow_extras();
    std::vector<std::string> several;  // bound to a list, CLI11 takes more than one
    CLI::Option* operand = verb.operand.empty() ? nullptr
                           : verb.many_operands ? app.add_option("operand", several)
                                                : app.add_option("operand");
    const std::vector<Bound> bound = bind(app, verb);
    try {
        std::vector<std::string> reversed(words.rbegin(), words.rend());
        app.parse(std::move(reversed));
    } catch (const CLI::ParseError& e) {
        return fail(Grade::usage, missing_value_message(verb, e.what()));
    }
    Arguments arguments;
    arguments.verb = verb.name;
    if (operand != nullptr && operand->count() > 0) arguments.operands = operand->results();
    if (!arguments.operands.empty()) arguments.operand = arguments.operands.front();
    if (auto taken = take_values(arguments, bound); !taken) return tl::unexpected(taken.error());
    if (auto strange = refuse_strangers(verb, app.remaining()); !strange) return tl::unexpected(strange.error());
    if (verb.needs_operand && !arguments.operand && !arguments.has("--help")) {
        return fail(Grade::usage,
                    fmt::format("{} needs a {}, for example: {}", verb.name, verb.operand, verb.examples.front()));
    }
    return arguments;
}

Result<std::string> word_of(const std::string& option, const std::string& typed,
                            const std::vector<std::string>& allowed) {
    if (std::find(allowed.begin(), allowed.end(), typed) != allowed.end()) return typed;
    return fail(Grade::usage, fmt::format("{} is one of {}, found {}{}", option, fmt::join(allowed, ", "),
                                          in_quotes(typed), did_you_mean(typed, allowed)));
}

Result<std::uint64_t> whole_number_of(const std::string& option, const std::string& typed, std::uint64_t lo,
                                      std::uint64_t hi) {
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), value);
    if (typed.empty() || error != std::errc{} || end != typed.data() + typed.size() || value < lo || value > hi) {
        return fail(Grade::usage, fmt::format("{} is a whole number from {} to {}, found {}; for example {} 7", option,
                                              lo, hi, in_quotes(typed), option));
    }
    return value;
}

}  // namespace offsquare::cli
