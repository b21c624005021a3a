#include "base/save.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace offsquare::base {

namespace fs = std::filesystem;

namespace {

/// A file descriptor that closes itself.
class Descriptor {
public:
    explicit Descriptor(int fd) : fd_(fd) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (fd_ >= 0) ::close(fd_);
    }
    int get() const { return fd_; }

private:
    int fd_;
};

bool write_whole(int fd, std::string_view text) {
    while (!text.empty()) {
        const ssize_t n = ::write(fd, text.data(), text.size());
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(n));
    }
    return ::fsync(fd) == 0;
}

tl::unexpected<Problem> failed(Grade grade, const std::string& path) {
    return fail(grade, fmt::format("cannot write {}: {}", path, std::strerror(errno)));
}

mode_t mode_for(const std::string& target) {
    struct stat info {};
    return ::stat(target.c_str(), &info) == 0 ? info.st_mode & 07777U : 0644U;
}

Result<void> write_new(const std::string& temporary, mode_t mode, std::string_view text, const std::string& shown) {
    const Descriptor file(::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode));
    if (file.get() < 0) return failed(Grade::cannot_create, shown);
    if (!write_whole(file.get(), text)) return failed(Grade::io, shown);
    return {};
}

void keep_old(const std::string& target) {
    // Best effort: a folder that takes no backup must not stop the save.
    std::error_code ignored;
    if (!fs::is_regular_file(target, ignored)) return;
    fs::remove(target + ".bak", ignored);
    fs::create_hard_link(target, target + ".bak", ignored);
}

void sync_folder(const std::string& target) {
    const fs::path folder = fs::path(target).parent_path();
    const Descriptor dir(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (dir.get() >= 0) ::fsync(dir.get());
}

}  // namespace

Result<void> save(const std::string& path, std::string_view text) {
    if (path.empty()) return fail(Grade::cannot_create, "cannot write a file without a name");
    std::error_code none;
    const fs::path resolved = fs::weakly_canonical(path, none);
    const std::string target = none || resolved.empty() ? path : resolved.string();
    if (fs::exists(target, none) && !fs::is_regular_file(target, none)) return fail(Grade::cannot_create, fmt::format("cannot write {}: it is not a regular file", path));
    const std::string temporary = fmt::format("{}.{}.part", target, ::getpid());
    auto written = write_new(temporary, mode_for(target), text, path);
    if (!written) {
        if (written.error().grade == Grade::io) ::unlink(temporary.c_str());
        return written;
    }
    keep_old(target);
    if (::rename(temporary.c_str(), target.c_str()) != 0) {
        auto problem = failed(Grade::cannot_create, path);
        ::unlink(temporary.c_str());
        return problem;
    }
    sync_folder(target);
    return {};
}

}  // namespace offsquare::base
