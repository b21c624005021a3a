#include "gui/files.h"

#include <fstream>
#include <iterator>

#include <fmt/format.h>

namespace offsquare::gui {
namespace {

using base::fail;
using base::Grade;
using base::Result;

Result<std::string> session_text(const std::filesystem::path& path) {
    constexpr std::uintmax_t most = 16U << 20U;   // far more than session::most_actions lines
    std::error_code ec;
    if (!std::filesystem::is_regular_file(path, ec)) return fail(Grade::no_input, fmt::format("{}: there is no such file", path.string()));
    if (std::filesystem::file_size(path, ec) > most) return fail(Grade::bad_data, fmt::format("{}: larger than a session can be (16 MiB)", path.string()));
    std::ifstream in(path, std::ios::binary);
    if (!in) return fail(Grade::no_input, fmt::format("{}: cannot be opened", path.string()));
    return std::string{std::istreambuf_iterator<char>(in), {}};
}

Result<std::string> open_session(Bench& bench, const std::filesystem::path& path) {
    const auto text = session_text(path);
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
