// The sleds of a person on the disk: a file each, in a folder of the user's data. Written whole at each change
// (base::save), so that a crash leaves the old file or the new one; one window at a time may write, and the second is
// told. Nothing leaves the machine.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/folders.h"
#include "base/lock.h"
#include "saws/sled.h"

namespace offsquare::saws {

/// A sled that is open. While `lock` is held nobody else may write it.
struct Held {
    Sled sled;
    std::filesystem::path file;
    std::optional<base::FileLock> lock;  ///< empty: it may be looked at, and not written
    std::string why_not;                 ///< why it may not be written, for the person; empty: it may
    std::vector<std::string> notes;      ///< about the file
    bool may_write() const { return lock.has_value(); }
};

/// A sled as a list shows it.
struct Listed {
    std::string name;  ///< empty where the file cannot be read
    std::string saw;
    std::filesystem::path file;
    std::string trouble;  ///< why the file cannot be read; empty: it can
};

class Store {
public:
    /// The folder "saws" below `data` (base::Folders::data); nothing is made before something is saved. An empty path:
    /// nothing can be kept, and every call says so.
    explicit Store(const std::filesystem::path& data);
    const std::filesystem::path& folder() const { return folder_; }

    /// By name. Files of other kinds are passed over.
    std::vector<Listed> list() const;

    /// The sled of this name, whatever the case; the name of a saw does where it has one sled only. Grade::no_input:
    /// there is none, with the names that there are. One that somebody else has open comes without its lock.
    base::Result<Held> open(const std::string& name) const;

    /// The same only to be looked at: no lock is taken, and nobody is in the way of who writes.
    base::Result<Held> look(const std::string& name) const;

    /// A new sled with its file. Grade::usage: the name is no name, or taken. Grade::cannot_create, Grade::io: the
    /// disk.
    base::Result<Held> make(const std::string& name, const std::string& saw, base::Units units) const;

    /// Writes `sled` in the place of what is held, and holds it then. On an error the file and `held` are as before.
    base::Result<void> save(Held& held, Sled sled) const;

    /// Another name or another saw; the file keeps its name. Refusals as `make`.
    base::Result<void> rename(Held& held, const std::string& name, const std::string& saw) const;

    /// Deletes the file for ever. Whoever asks the person stands before this. Refused where it may not be written.
    base::Result<void> remove(Held&& held) const;

private:
    base::Result<std::filesystem::path> file_of(const std::string& name) const;
    std::filesystem::path folder_;
};

}  // namespace offsquare::saws
