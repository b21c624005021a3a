#include "base/save.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include "base/descriptor.h"

namespace offsquare::base {

namespace fs = std::filesystem;

namespace {

/// While this lives, the signals by which a person or the system ends the program wait, so that no half file is left
/// behind.
class SignalsWait {
public:
    SignalsWait() {
        sigset_t ending;
        sigemptyset(&ending);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&ending, signal);
        ::pthread_sigmask(SIG_BLOCK, &ending, &before_);
    }
    SignalsWait(const SignalsWait&) = delete;
    SignalsWait& operator=(const SignalsWait&) = delete;
    ~SignalsWait() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

private:
    sigset_t before_{};
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

tl::unexpected<Problem> failed(Grade grade, const std::string& path, int why) {
    return fail(grade, fmt::format("cannot write {}: {}", path, std::strerror(why)));
}

/// Rights of the file that is replaced; a new file gets what the umask leaves of 0666, which open() sees to.
void keep_mode(int fd, const std::string& target) {
    struct stat info {};
    if (::stat(target.c_str(), &info) == 0 && ::fchmod(fd, info.st_mode & 07777U) != 0)
        errno = 0;  // a disk without modes must not stop the save
}

// ---- the temporary file ----

/// NAME.PID.part, or NAME.PID-N.part where that is taken; the backup is linked as NAME.PID.old on its way.
constexpr std::string_view part = ".part";
constexpr std::string_view linked = ".old";

/// Of which file this is a temporary one; empty: of none.
std::string_view saved_as(std::string_view name) {
    if (!name.ends_with(part)) return {};
    name.remove_suffix(part.size());
    const std::size_t dot = name.rfind('.');
    if (dot == std::string_view::npos || dot == 0 || dot + 1 == name.size()) return {};
    const std::string_view number = name.substr(dot + 1);
    const bool ours = number.find_first_not_of("0123456789-") == std::string_view::npos && number.front() != '-' &&
                      number.back() != '-' && std::count(number.begin(), number.end(), '-') <= 1;
    return ours ? name.substr(0, dot) : std::string_view();
}

std::string backup_link(std::string temporary) {
    temporary.resize(temporary.size() - part.size());
    return temporary += linked;
}

/// Whether the open file still has this name: between opening and locking, somebody may have taken it away.
bool is_named(int fd, const std::string& path) {
    struct stat open {};
    struct stat named {};
    return ::fstat(fd, &open) == 0 && ::lstat(path.c_str(), &named) == 0 && open.st_dev == named.st_dev &&
           open.st_ino == named.st_ino;
}

/// Who writes a temporary file holds a lock on it, which the system lets go when the program ends, however it ends.
bool hold(int fd, const std::string& path) {
    if (::flock(fd, LOCK_EX | LOCK_NB) == 0) return is_named(fd, path);
    return errno != EWOULDBLOCK;  // a disk without locks; else somebody is about to take it away
}

bool nobody_writes(int fd, const std::string& path) {
    struct stat info {};
    return ::fstat(fd, &info) == 0 && S_ISREG(info.st_mode) && info.st_uid == ::geteuid() &&
           ::flock(fd, LOCK_EX | LOCK_NB) == 0 && is_named(fd, path);
}

struct Temporary {
    std::string path;
    Descriptor file;
};

/// A new file beside the target, held; file -1 and errno: none can be made.
Temporary new_temporary(const std::string& target) {
    constexpr int most = 100;
    for (int i = 0;; ++i) {
        std::string path = fmt::format("{}.{}{}{}", target, ::getpid(), i == 0 ? "" : fmt::format("-{}", i), part);
        const int fd = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (fd < 0 && (errno != EEXIST || i == most)) return {std::move(path), Descriptor(-1)};
        if (fd < 0) continue;
        if (hold(fd, path)) return {std::move(path), Descriptor(fd)};
        ::close(fd);
    }
}

Result<void> write_new(const Temporary& temporary, const std::string& target, std::string_view text,
                       const std::string& shown) {
    if (temporary.file.get() < 0) return failed(Grade::cannot_create, shown, errno);
    keep_mode(temporary.file.get(), target);
    if (write_whole(temporary.file.get(), text)) return {};
    const int why = errno;
    ::unlink(temporary.path.c_str());
    return failed(Grade::io, shown, why);
}

/// Best effort: a folder that takes no backup must not stop the save. There is a backup at every moment.
void keep_old(const std::string& target, const std::string& temporary) {
    const std::string link = backup_link(temporary);
    ::unlink(link.c_str());  // of a save that was killed; the name is ours as long as the temporary file is
    if (::link(target.c_str(), link.c_str()) != 0) return;
    if (std::rename(link.c_str(), (target + ".bak").c_str()) != 0) ::unlink(link.c_str());
}

void sync_folder(const std::string& target) {
    const fs::path folder = fs::path(target).parent_path();
    const Descriptor dir(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (dir.get() >= 0) ::fsync(dir.get());
}

/// The file that is written: links are followed, so that a link stays a link, also one that leads to nothing yet.
std::string behind_links(const std::string& path) {
    constexpr int most = 40;  // as many as Linux follows
    fs::path at = path;
    std::error_code none;
    for (int i = 0; i < most && fs::is_symlink(at, none); ++i)
        at = at.parent_path() / fs::read_symlink(at, none);  // an absolute one replaces all before it
    return at.string();
}

}  // namespace

Result<void> save(const std::string& path, std::string_view text, Old old) {
    if (path.empty()) return fail(Grade::cannot_create, "cannot write a file without a name");
    const std::string target = behind_links(path);
    std::error_code none;
    const bool replaces = fs::exists(target, none);
    if (replaces && !fs::is_regular_file(target, none))
        return fail(Grade::cannot_create, fmt::format("cannot write {}: it is not a regular file", path));
    const SignalsWait wait;
    const fs::path folder = fs::path(target).parent_path();
    clear_leftovers(folder.empty() ? "." : folder,
                    [name = fs::path(target).filename().string()](std::string_view saved) { return saved == name; });
    const Temporary temporary = new_temporary(target);
    if (auto written = write_new(temporary, target, text, path); !written) return written;
    if (replaces && old == Old::keep) keep_old(target, temporary.path);
    if (std::rename(temporary.path.c_str(), target.c_str()) != 0) {
        const int why = errno;
        ::unlink(temporary.path.c_str());
        return failed(Grade::cannot_create, path, why);
    }
    sync_folder(target);
    return {};
}

void clear_leftovers(const fs::path& folder, const std::function<bool(std::string_view name)>& ours) {
    std::error_code error;
    for (fs::directory_iterator it(folder, error); !error && it != fs::directory_iterator(); it.increment(error)) {
        const std::string name = it->path().filename().string();
        const std::string_view saved = saved_as(name);
        if (saved.empty() || !ours(saved)) continue;
        const std::string path = it->path().string();
        // Non-blocking: a pipe of such a name would wait for who writes into it.
        const Descriptor file(::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
        if (file.get() < 0 || !nobody_writes(file.get(), path)) continue;
        ::unlink(path.c_str());
        ::unlink(backup_link(path).c_str());
    }
}

}  // namespace offsquare::base
