#include "base/lock.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

namespace offsquare::base {
namespace {

/// Whether the open file still has this name: who let go of it may just have taken it away.
bool is_named(int fd, const std::filesystem::path& file) {
    struct stat open {};
    struct stat named {};
    return ::fstat(fd, &open) == 0 && ::lstat(file.c_str(), &named) == 0 && open.st_dev == named.st_dev &&
           open.st_ino == named.st_ino;
}

}  // namespace

Result<FileLock> FileLock::take(const std::filesystem::path& file) {
    constexpr int most_tries = 100;
    for (int i = 0; i < most_tries; ++i) {
        auto held = std::make_unique<Descriptor>(::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600));
        if (held->get() < 0)
            return fail(Grade::cannot_create, fmt::format("cannot write {}: {}", file.string(), std::strerror(errno)));
        if (::flock(held->get(), LOCK_EX | LOCK_NB) != 0) {
            if (errno == EWOULDBLOCK) break;
            return fail(Grade::cannot_create, fmt::format("cannot lock {}: {}", file.string(), std::strerror(errno)));
        }
        if (is_named(held->get(), file)) return FileLock(file, std::move(held));
    }
    return fail(Grade::verdict_no, fmt::format("{} is held by another program", file.string()));
}

void FileLock::let_go() {
    if (!held_) return;
    ::unlink(file_.c_str());  // while it is held: whoever waits at the old file sees that it has lost its name
    held_.reset();
}

FileLock& FileLock::operator=(FileLock&& other) noexcept {
    if (this == &other) return *this;
    let_go();
    file_ = std::move(other.file_);
    held_ = std::move(other.held_);
    return *this;
}

FileLock::~FileLock() { let_go(); }

}  // namespace offsquare::base
