#include "gui/files.h"

#include "base/read.h"

namespace offsquare::gui {
namespace {

using base::Result;

Result<std::string> open_session(Bench& bench, const std::filesystem::path& path) {
    const auto text = base::read_file(path.string(), path.string(), base::session_wanted);
    if (!text) return tl::unexpected(text.error());
    auto replay = session::replay(*text, path.filename().string());
    if (!replay) return tl::unexpected(replay.error());
    bench.open(std::move(*replay));
    return "The session is open; its replay gives the same numbers.";
}

}  // namespace

Result<std::string> open_on(Bench& bench, const std::filesystem::path& path) {
    if (path.extension() == ".jsonl") return open_session(bench, path);
    auto loaded = scenario::load(path.string());
    if (!loaded) return tl::unexpected(loaded.error());
    bench.open(std::move(loaded->scenario));
    return loaded->warnings.empty() ? "Opened " + path.filename().string() + "." : loaded->warnings.front();
}

}  // namespace offsquare::gui
