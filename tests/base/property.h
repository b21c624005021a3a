// A property of RapidCheck that is tried with the same cases on every run, so that a failure on one machine is a
// failure on all.
#pragma once

#include <iostream>
#include <string>

#include <rapidcheck.h>

template <class Testable>
bool holds(const std::string& what, Testable&& testable, int cases = 500) {
    rc::detail::TestMetadata about;
    about.id = what;
    about.description = what;
    rc::detail::TestParams params;
    params.seed = 20240611;
    params.maxSuccess = cases;
    const auto result = rc::detail::checkTestable(std::forward<Testable>(testable), about, params);
    const bool good = result.template is<rc::detail::SuccessResult>();
    if (!good) rc::detail::printResultMessage(result, std::cerr);
    return good;
}
