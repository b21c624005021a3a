// A part of a row that must be said.
#pragma once

#include <algorithm>
#include <cstddef>

namespace offsquare::base {

/// The name of a part, as a template can carry it.
template <std::size_t n>
struct PartName {
    char text[n]{};
    consteval PartName(const char (&name)[n]) { std::copy_n(name, n, text); }
};

/// Stands where a part has no value of its own: `double minutes = base::LeftOut<"minutes">{};`. A constant of which
/// that part is left out does not compile, and the compiler says which it is; one that is no constant does not link.
template <PartName name>
struct LeftOut {
    template <class T>
    operator T() const;  // defined nowhere, and no constant
};

}  // namespace offsquare::base
