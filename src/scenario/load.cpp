#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

#include <fmt/format.h>

#include "scenario/raw.h"
#include "scenario/scenario.h"

namespace offsquare::scenario {
namespace {

using base::Grade;

/// A file descriptor that closes itself, unless it is standard input.
class Open {
public:
    explicit Open(int fd) : fd_(fd) {}
    ~Open() {
        if (fd_ > STDIN_FILENO) ::close(fd_);
    }
    Open(const Open&) = delete;
    Open& operator=(const Open&) = delete;
    int fd() const { return fd_; }

private:
    int fd_;
};

std::string system_words(int error) { return std::generic_category().message(error); }

tl::unexpected<base::Problem> no_input(const std::string& name, const std::string& found) {
    return base::fail(Grade::no_input,
                      fmt::format("{}: {}. Allowed: a scenario file, or - for standard input. Example: scenarios/teaching-saw.toml", name, found));
}

/// All of it, or one byte more than is allowed: enough to know that it is too much.
base::Result<std::string> read_all(int fd, const std::string& name) {
    std::string text;
    std::array<char, 16384> part{};
    while (text.size() <= largest_file) {
        const ssize_t n = ::read(fd, part.data(), part.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return base::fail(Grade::io, fmt::format("{}: reading broke off: {}", name, system_words(errno)));
        if (n == 0) return text;
        text.append(part.data(), static_cast<std::size_t>(n));
    }
    return base::fail(Grade::bad_data,
                      fmt::format("{}:1:1: found more than {} bytes. Allowed: at most {} (1 MiB). Example: a scenario has about 4000.", name, largest_file,
                                  largest_file));
}

/// Opens without waiting, so that a pipe with nobody at its other end cannot hold the program, and looks at what it is before reading.
base::Result<std::string> read_file(const std::string& path) {
    const std::string name = shown(path, 200);
    if (path.empty() || path.find('\0') != std::string::npos) return no_input(name, "found no file name");
    const Open file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY));
    if (file.fd() < 0) return no_input(name, "cannot be opened: " + system_words(errno));
    struct stat what {};
    if (::fstat(file.fd(), &what) != 0) return no_input(name, "cannot be looked at: " + system_words(errno));
    if (S_ISDIR(what.st_mode)) return no_input(name, "found a folder");
    if (!S_ISREG(what.st_mode)) return no_input(name, "found a device or a pipe, not a file");
    return read_all(file.fd(), name);
}

}  // namespace

base::Result<Loaded> load(const std::string& path, const std::vector<Override>& overrides) {
    const bool from_stdin = path == "-";
    const auto text = from_stdin ? read_all(STDIN_FILENO, "standard input") : read_file(path);
    if (!text) return tl::unexpected<base::Problem>(text.error());
    return parse(*text, from_stdin ? "standard input" : shown(path, 200), overrides);
}

}  // namespace offsquare::scenario
