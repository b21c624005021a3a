// What stands in a picture, for the tests.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "picture/shapes.h"
#include "picture/writers.h"

namespace in_picture {

using namespace offsquare;
using picture::Picture;

inline std::string svg(const Picture& p) { return *picture::render(p, {}, "svg"); }

inline bool has_words(const Picture& p, const std::string& words) {
    return std::any_of(p.items.begin(), p.items.end(), [&](const picture::Item& i) {
        if (const auto* w = std::get_if<picture::Words>(&i.shape)) return w->text == words;
        if (const auto* t = std::get_if<picture::Tag>(&i.shape)) return t->word == words || t->figure == words;
        return false;
    });
}

inline double direction(base::Vec2 from, base::Vec2 to) { return std::atan2(to.y - from.y, to.x - from.x); }

}  // namespace in_picture
