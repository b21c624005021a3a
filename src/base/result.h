// What a function returns when the input may be bad: a value, or a problem that a person can act on.
#pragma once

#include <string>
#include <tl/expected.hpp>

namespace offsquare::base {

/// Whose fault it is. The number is the exit code of the program.
enum class Grade : int {
    verdict_no = 1,      ///< the program ran; the answer is no
    usage = 2,           ///< the command was not understood
    bad_data = 65,       ///< a file or a value is wrong
    no_input = 66,       ///< a file cannot be read
    our_fault = 70,      ///< a bug of offsquare
    cannot_create = 73,  ///< the output cannot be made
    io = 74,             ///< reading or writing broke off
};

/// One complete message: what was found, where, what is allowed, and an example. No trailing newline.
struct Problem {
    Grade grade = Grade::our_fault;
    std::string message;
    std::string part{};  ///< of what was read: the key whose value is wrong. Whoever knows where that stands says so
};

template <class T>
using Result = tl::expected<T, Problem>;

inline tl::unexpected<Problem> fail(Grade grade, std::string message) {
    return tl::unexpected<Problem>(Problem{grade, std::move(message)});
}

}  // namespace offsquare::base
