// offsquare picture: the table from above in a file.
#include <fmt/format.h>

#include "cli/request.h"
#include "cli/plan.h"
#include "cli/verb.h"
#include "picture/table_view.h"
#include "picture/writers.h"
#include "session/reveal.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

Result<session::History> history_at(std::string_view stage, const Request& request) {
    if (stage == "read") return with_one_test(request);
    if (stage == "prove") return do_the_job(request).map([](Job&& job) { return std::move(job.history); });
    auto history = start(request);
    if (!history || stage == "set-up") return history;
    if (auto cut = history->act(session::CutTest{}); !cut) return tl::unexpected(cut.error());
    return history;
}

Result<double> exaggeration_of(const Arguments& arguments, const session::Seen& seen,
                               const std::shared_ptr<const session::Revealed>& revealed) {
    const auto typed = arguments.one("--exaggeration");
    if (!typed || *typed == "auto") return picture::job_exaggeration(seen, revealed);
    if (*typed == "fit") return picture::fitting_exaggeration(seen);
    const auto factor = base::parse_number(*typed);
    if (!factor || !(*factor >= 1.0) || !(*factor <= 10000.0)) {
        return fail(
            Grade::usage,
            fmt::format(
                "--exaggeration is a number from 1 to 10000, auto or fit, found {}; for example --exaggeration 200",
                in_quotes(*typed)));
    }
    return *factor;
}

Result<picture::Page> page_of(const Arguments& arguments) {
    picture::Page page;
    page.scheme = arguments.has("--dark") ? picture::Scheme::dark : picture::Scheme::light;
    const auto typed = arguments.one("--size");
    if (!typed) return page;
    const std::size_t x = typed->find('x');
    const auto problem = fail(
        Grade::usage,
        fmt::format("--size is WIDTHxHEIGHT in points, each from 200 to 10000, found {}; for example --size 1280x800",
                    in_quotes(*typed)));
    if (x == std::string::npos) return problem;
    const auto width = whole_number_of("--size", typed->substr(0, x), 200, 10000);
    const auto height = whole_number_of("--size", typed->substr(x + 1), 200, 10000);
    if (!width || !height) return problem;
    page.width = static_cast<double>(*width);
    page.height = static_cast<double>(*height);
    return page;
}

Result<picture::ViewOptions> view_of(const Arguments& arguments, const session::History& history, base::Units units) {
    const session::Seen& seen = history.seen();
    picture::ViewOptions view;
    view.units = units;
    if (arguments.has("--reveal")) view.revealed = std::make_shared<const session::Revealed>(session::reveal(history));
    const auto exaggeration = exaggeration_of(arguments, seen, view.revealed);
    if (!exaggeration) return tl::unexpected(exaggeration.error());
    view.exaggeration = *exaggeration;
    view.cut = seen.last_test() == nullptr ? 0 : seen.last_test()->cuts_made;
    return view;
}

Result<Answer> written(const std::string& path, const picture::Picture& drawing, const picture::Page& page) {
    if (path == "-")
        return picture::render(drawing, page, "svg").map([](std::string&& svg) {
            return Answer{std::move(svg), {}, 0};
        });
    return picture::write(drawing, page, path).map([] { return Answer{}; });
}

/// Wrong endings are refused before anything is computed.
Result<void> refuse_ending(const std::string& path) {
    for (const std::string_view ending : {".svg", ".png", ".pdf"}) {
        if (path.size() > ending.size() && path.ends_with(ending)) return {};
    }
    if (path == "-") return {};
    return fail(Grade::usage,
                fmt::format("--output ends in .svg, .png or .pdf (or is -), found {}; for example -o table.svg",
                            in_quotes(path)));
}

}  // namespace

base::Result<Answer> picture_verb_answer(const Arguments& arguments, const Door& door) {
    const auto path = arguments.one("--output");
    if (!path) return fail(Grade::usage, "picture needs -o FILE; for example: offsquare picture built-in -o table.svg");
    if (auto ending = refuse_ending(*path); !ending) return tl::unexpected(ending.error());
    const auto stage =
        word_of("--stage", arguments.one("--stage").value_or("read"), {"set-up", "cut", "read", "prove"});
    if (!stage) return tl::unexpected(stage.error());
    const auto page = page_of(arguments);
    if (!page) return tl::unexpected(page.error());
    const auto request = request_of(arguments, door.in);
    if (!request) return tl::unexpected(request.error());
    const auto history = history_at(*stage, *request);
    if (!history) return tl::unexpected(history.error());
    const auto view = view_of(arguments, *history, request->scenario.units);
    if (!view) return tl::unexpected(view.error());
    auto answer = written(*path, picture::table_view(history->seen(), *view), *page);
    if (answer) {
        answer->notes = request->warnings;
        answer->notes.push_back(fmt::format("seed {}", history->seen().seed));
    }
    return answer;
}

}  // namespace offsquare::cli
