#include "base/save.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

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

Result<void> write_new(const std::string& temporary, const std::string& target, std::string_view text,
                       const std::string& shown) {
    const Descriptor file(::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
    if (file.get() < 0) return failed(Grade::cannot_create, shown, errno);
    keep_mode(file.get(), target);
    if (write_whole(file.get(), text)) return {};
    const int why = errno;
    ::unlink(temporary.c_str());
    return failed(Grade::io, shown, why);
}

/// Best effort: a folder that takes no backup must not stop the save. There is a backup at every moment.
void keep_old(const std::string& target) {
    const std::string linked = fmt::format("{}.{}.old", target, ::getpid());
    if (::link(target.c_str(), linked.c_str()) != 0) return;
    if (std::rename(linked.c_str(), (target + ".bak").c_str()) != 0) ::unlink(linked.c_str());
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
    const std::string temporary = fmt::format("{}.{}.part", target, ::getpid());
    if (auto written = write_new(temporary, target, text, path); !written) return written;
    if (replaces && old == Old::keep) keep_old(target);
    if (std::rename(temporary.c_str(), target.c_str()) != 0) {
        const int why = errno;
        ::unlink(temporary.c_str());
        return failed(Grade::cannot_create, path, why);
    }
    sync_folder(target);
    return {};
}

}  // namespace offsquare::base
