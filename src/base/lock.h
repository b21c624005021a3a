// A lock that one program at a time can hold, as a file beside what it guards. The system lets go of it when the
// program ends, however it ends.
#pragma once

#include <filesystem>
#include <memory>

#include "base/descriptor.h"
#include "base/result.h"

namespace offsquare::base {

class FileLock {
public:
    /// Grade::verdict_no: somebody else holds it. Grade::cannot_create: the file cannot be made there.
    static Result<FileLock> take(const std::filesystem::path& file);

    FileLock(FileLock&&) noexcept = default;
    FileLock& operator=(FileLock&& other) noexcept;
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    ~FileLock();  ///< lets go, and takes the file away

private:
    FileLock(std::filesystem::path file, std::unique_ptr<Descriptor> held)
        : file_(std::move(file)), held_(std::move(held)) {}
    void let_go();

    std::filesystem::path file_;
    std::unique_ptr<Descriptor> held_;  ///< nullptr: moved from
};

}  // namespace offsquare::base
