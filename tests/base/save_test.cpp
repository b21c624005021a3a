// What a save keeps, and what is left when it cannot be done. The expected state of the folder is counted out by hand
// in each case.
#include "base/save.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/inotify.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "base/scratch.h"

using namespace offsquare;
using base::Grade;
using scratch::Folder;
using scratch::Names;
using scratch::text_of;

namespace {

mode_t mode_of(const std::string& path) {
    struct stat info {};
    REQUIRE(::stat(path.c_str(), &info) == 0);
    return info.st_mode & 07777U;
}

/// No file of this process may grow beyond `bytes` while this lives: writing then breaks off as on a full disk.
struct SmallFiles {
    rlimit before{};
    void (*handler)(int);
    explicit SmallFiles(rlim_t bytes) : handler(std::signal(SIGXFSZ, SIG_IGN)) {
        ::getrlimit(RLIMIT_FSIZE, &before);
        const rlimit small{bytes, before.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &small);
    }
    ~SmallFiles() {
        ::setrlimit(RLIMIT_FSIZE, &before);
        std::signal(SIGXFSZ, handler);
    }
};

/// Nobody in particular while this lives, if we are root: root may write anywhere.
struct Nobody {
    bool changed = ::geteuid() == 0 && ::seteuid(65534) == 0;
    ~Nobody() {
        if (changed && ::seteuid(0) != 0) std::abort();
    }
};

}  // namespace

TEST_CASE("save: a new file stands alone, with what the umask leaves of 0666") {
    const Folder folder;
    const mode_t before = ::umask(0027);
    const auto saved = base::save(folder / "a.txt", "one");
    ::umask(before);
    REQUIRE(saved);
    CHECK(text_of(folder / "a.txt") == "one");
    CHECK(mode_of(folder / "a.txt") == 0640);
    CHECK(folder.names() == Names{"a.txt"});
}

TEST_CASE("save: the mode is kept, even what the umask would take") {
    const Folder folder;
    for (const mode_t mode : {0600, 0664, 0755}) {
        scratch::write(folder / "a.txt", "one");
        REQUIRE(::chmod((folder / "a.txt").c_str(), mode) == 0);
        const mode_t before = ::umask(0077);
        const auto saved = base::save(folder / "a.txt", "two");
        ::umask(before);
        REQUIRE(saved);
        CHECK(mode_of(folder / "a.txt") == mode);
    }
}

TEST_CASE("save: one backup, of the save before; none where it is not wanted") {
    const Folder folder;
    for (const char* text : {"one", "two", "three"}) REQUIRE(base::save(folder / "a.txt", text));
    CHECK(text_of(folder / "a.txt") == "three");
    CHECK(text_of(folder / "a.txt.bak") == "two");
    CHECK(folder.names() == Names{"a.txt", "a.txt.bak"});
    REQUIRE(base::save(folder / "b.png", "one", base::Old::drop));
    REQUIRE(base::save(folder / "b.png", "two", base::Old::drop));
    CHECK(text_of(folder / "b.png") == "two");
    CHECK(folder.names() == Names{"a.txt", "a.txt.bak", "b.png"});
}

TEST_CASE("save: a link stays a link, also one that leads into another folder or to nothing yet") {
    const Folder folder, other;
    scratch::write(other / "real.txt", "one");
    std::filesystem::create_symlink(other / "real.txt", folder / "link");
    REQUIRE(base::save(folder / "link", "two"));
    CHECK(std::filesystem::is_symlink(folder / "link"));
    CHECK(text_of(other / "real.txt") == "two");
    CHECK(folder.names() == Names{"link"});
    CHECK(other.names() == Names{"real.txt", "real.txt.bak"});
    std::filesystem::create_symlink(other / "later.txt", folder / "early");
    REQUIRE(base::save(folder / "early", "x"));
    CHECK(std::filesystem::is_symlink(folder / "early"));
    CHECK(text_of(other / "later.txt") == "x");
}

TEST_CASE("save: a folder, a device, a pipe and no name at all are refused and left as they are") {
    const Folder folder;
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    for (const std::string& path :
         {std::string(), folder.path.string(), folder / "pipe", std::string("/dev/full"), std::string("/dev/null")}) {
        const auto saved = base::save(path, "x");
        REQUIRE_FALSE(saved);
        CHECK(saved.error().grade == Grade::cannot_create);
    }
    CHECK(std::filesystem::is_fifo(folder / "pipe"));
    CHECK(std::filesystem::is_character_file("/dev/full"));
    CHECK(folder.names() == Names{"pipe"});
}

TEST_CASE("save: where nothing can be made it says so, and names the file") {
    const Folder folder;
    scratch::write(folder / "a.txt", "one");
    const auto missing = base::save(folder / "no/such/folder/a.txt", "two");
    REQUIRE_FALSE(missing);
    CHECK(missing.error().grade == Grade::cannot_create);
    CHECK(missing.error().message.find("no/such/folder/a.txt") != std::string::npos);
    std::filesystem::permissions(folder.path, std::filesystem::perms::owner_read | std::filesystem::perms::owner_exec |
                                                  std::filesystem::perms::others_exec);
    const auto unwritable = [&] {
        const Nobody nobody;
        return base::save(folder / "a.txt", "two");
    }();
    std::filesystem::permissions(folder.path, std::filesystem::perms::owner_all);
    REQUIRE_FALSE(unwritable);
    CHECK(unwritable.error().grade == Grade::cannot_create);
    CHECK(text_of(folder / "a.txt") == "one");
    CHECK(folder.names() == Names{"a.txt"});
}

TEST_CASE("save: on a full disk the old file and its backup stay, and nothing else") {
    const Folder folder;
    REQUIRE(base::save(folder / "a.txt", "zero"));
    REQUIRE(base::save(folder / "a.txt", "one"));
    const auto saved = [&] {
        const SmallFiles small(4096);
        return base::save(folder / "a.txt", std::string(10000, 'x'));
    }();
    REQUIRE_FALSE(saved);
    CHECK(saved.error().grade == Grade::io);
    CHECK(text_of(folder / "a.txt") == "one");
    CHECK(text_of(folder / "a.txt.bak") == "zero");
    CHECK(folder.names() == Names{"a.txt", "a.txt.bak"});
    // The limit is what made it fail.
    CHECK(base::save(folder / "a.txt", std::string(10000, 'x')));
}

TEST_CASE("save: interrupted while it writes, the program ends by the signal with the file whole") {
    const std::string text(32U << 20U, 'x');
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        CAPTURE(signal);
        const Folder folder;
        scratch::write(folder / "a.txt", "one");
        const int watch = ::inotify_init();
        REQUIRE(::inotify_add_watch(watch, folder.path.c_str(), IN_CREATE) >= 0);
        const pid_t child = ::fork();
        if (child == 0) {
            std::signal(signal, SIG_DFL);
            ::_exit(base::save(folder / "a.txt", text) ? 0 : 1);
        }
        char event[4096];
        REQUIRE(::read(watch, event, sizeof event) > 0);  // the temporary file is there: it is being written
        ::kill(child, signal);
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        ::close(watch);
        // Either the signal came in time and ended the program (the shell calls that 128 + its number), or the program
        // was done already.
        const bool by_signal = WIFSIGNALED(status) && WTERMSIG(status) == signal;
        CHECK((by_signal || (WIFEXITED(status) && WEXITSTATUS(status) == 0)));
        CHECK(std::filesystem::file_size(folder / "a.txt") == text.size());
        CHECK(folder.names() == Names{"a.txt", "a.txt.bak"});
    }
}

TEST_CASE("save: what a kill left is taken away by the next save and never refuses it") {
    const Folder folder;
    scratch::write(folder / "a.txt", "one");
    const int watch = ::inotify_init();
    REQUIRE(::inotify_add_watch(watch, folder.path.c_str(), IN_CREATE) >= 0);
    const pid_t child = ::fork();
    if (child == 0) {
        const std::string text(32U << 20U, 'x');
        for (;;) static_cast<void>(base::save(folder / "b.txt", text));
    }
    char event[4096];
    REQUIRE(::read(watch, event, sizeof event) > 0);
    ::close(watch);
    // While that program lives and writes, its file is left alone; then it is killed where no signal can wait.
    REQUIRE(base::save(folder / "b.txt", "meanwhile"));
    ::kill(child, SIGKILL);
    REQUIRE(::waitpid(child, nullptr, 0) == child);
    scratch::write(folder / ("a.txt." + std::to_string(::getpid()) + ".part"), "of a program that had our number");
    scratch::write(folder / ("a.txt." + std::to_string(::getpid()) + ".old"), "a backup on its way");
    REQUIRE(base::save(folder / "a.txt", "two"));
    REQUIRE(base::save(folder / "b.txt", "after"));
    CHECK(text_of(folder / "a.txt") == "two");
    CHECK(text_of(folder / "a.txt.bak") == "one");
    CHECK(text_of(folder / "b.txt") == "after");
    CHECK(folder.names() == Names{"a.txt", "a.txt.bak", "b.txt", "b.txt.bak"});
}

TEST_CASE("save: nothing is taken away but a temporary file of ours, of this very file, that nobody writes") {
    const Folder folder;
    const Names others{"a.txt.part",       "a.txt.x1.part", "a.txt.12.parts", "a.txt.12.old", "ba.txt.12.part",
                       "a.txt.1-2-3.part", "a.txt.-1.part", "12.part",        ".12.part",     "a.txt.7.part"};
    for (const std::string& name : others) scratch::write(folder / name, "x");
    std::filesystem::create_directory(folder / "a.txt.8.part");
    REQUIRE(::mkfifo((folder / "a.txt.9.part").c_str(), 0600) == 0);
    std::filesystem::create_symlink(folder / "12.part", folder / "a.txt.10.part");
    const std::string held = folder / "a.txt.7.part";
    const std::string own = folder / ("a.txt." + std::to_string(::getpid()) + ".part");
    scratch::write(own, "x");
    const int in_hand[] = {::open(held.c_str(), O_RDONLY), ::open(own.c_str(), O_RDONLY)};
    for (const int fd : in_hand) REQUIRE(::flock(fd, LOCK_EX | LOCK_NB) == 0);
    Names before = folder.names();
    // Even the name that this process would take may be in use, by one with the same number in another container.
    REQUIRE(base::save(folder / "a.txt", "one"));
    before.insert("a.txt");
    CHECK(folder.names() == before);
    for (const int fd : in_hand) ::close(fd);
    REQUIRE(base::save(folder / "a.txt", "two", base::Old::drop));
    for (const char* gone : {"a.txt.7.part", own.c_str() + folder.path.string().size() + 1}) before.erase(gone);
    CHECK(folder.names() == before);
}
