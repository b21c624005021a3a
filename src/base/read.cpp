#include "base/read.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "base/descriptor.h"

namespace offsquare::base {
namespace {

tl::unexpected<Problem> no_input(std::string_view name, const std::string& found, const Wanted& wanted) {
    return fail(Grade::no_input,
                fmt::format("{}: {}. Allowed: {}. Example: {}", name, found, wanted.what, wanted.example));
}

tl::unexpected<Problem> too_long(std::string_view name, const Wanted& wanted) {
    return fail(
        Grade::bad_data,
        fmt::format("{}: found more than {} bytes. Allowed: at most {} ({} MiB) in {}. Example: {}", name,
                    wanted.most_bytes, wanted.most_bytes, wanted.most_bytes >> 20U, wanted.what, wanted.example));
}

tl::unexpected<Problem> broke_off(std::string_view name, const std::string& why) {
    return fail(Grade::io, fmt::format("{}: reading broke off{}", name, why.empty() ? "" : ": " + why));
}

/// All of it; one byte more than is allowed is enough to know that it is too much.
Result<std::string> read_all(int fd, std::string_view name, const Wanted& wanted) {
    std::string text;
    std::array<char, 65536> part{};
    while (text.size() <= wanted.most_bytes) {
        const ssize_t n = ::read(fd, part.data(), part.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return broke_off(name, std::strerror(errno));
        if (n == 0) return text;
        text.append(part.data(), static_cast<std::size_t>(n));
    }
    return too_long(name, wanted);
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::string_view name, const Wanted& wanted) {
    if (path.empty() || path.find('\0') != std::string::npos) return no_input(name, "found no file name", wanted);
    // Opened without waiting, so that a pipe with nobody at its other end cannot hold the program.
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY));
    if (file.get() < 0) return no_input(name, fmt::format("cannot be opened: {}", std::strerror(errno)), wanted);
    struct stat what {};
    if (::fstat(file.get(), &what) != 0)
        return no_input(name, fmt::format("cannot be looked at: {}", std::strerror(errno)), wanted);
    if (S_ISDIR(what.st_mode)) return no_input(name, "found a folder", wanted);
    if (!S_ISREG(what.st_mode)) return no_input(name, "found a device or a pipe, not a regular file", wanted);
    return read_all(file.get(), name, wanted);
}

Result<std::string> read_stream(std::istream& in, std::string_view name, const Wanted& wanted) {
    std::string text;
    std::string part(65536, '\0');
    while (text.size() <= wanted.most_bytes && in) {
        in.read(part.data(), static_cast<std::streamsize>(part.size()));
        text.append(part, 0, static_cast<std::size_t>(in.gcount()));
    }
    if (in.bad()) return broke_off(name, "");
    if (text.size() > wanted.most_bytes) return too_long(name, wanted);
    return text;
}

}  // namespace offsquare::base
