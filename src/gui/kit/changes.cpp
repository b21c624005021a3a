#include "gui/kit/changes.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <unordered_map>
#include <utility>

namespace offsquare::gui {
namespace {

Patch both(const Patch& a, const Patch& b) {
    return {std::min(a.x0, b.x0), std::min(a.y0, b.y0), std::max(a.x1, b.x1), std::max(a.y1, b.y1)};
}

Patch shared(const Patch& a, const Patch& b) {
    return {std::max(a.x0, b.x0), std::max(a.y0, b.y0), std::min(a.x1, b.x1), std::min(a.y1, b.y1)};
}

void grow(Patch& patch, const Patch& by) {
    if (!by.empty()) patch = patch.empty() ? by : both(patch, by);
}

int whole(float pixels) {
    constexpr float far = 1e6F;
    return static_cast<int>(std::clamp(pixels, -far, far));
}

Patch clip_of(const ImDrawCmd& cmd, const ImDrawData& data) {
    const Patch window{0, 0, whole(data.DisplaySize.x), whole(data.DisplaySize.y)};
    const ImVec2 lo = data.DisplayPos;
    return shared(window, {whole(cmd.ClipRect.x - lo.x), whole(cmd.ClipRect.y - lo.y), whole(cmd.ClipRect.z - lo.x),
                           whole(cmd.ClipRect.w - lo.y)});
}

/// The pixels that a triangle may touch, one more on each side against rounding.
Patch around(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, ImVec2 origin) {
    const auto [x0, x1] = std::minmax({a.pos.x, b.pos.x, c.pos.x});
    const auto [y0, y1] = std::minmax({a.pos.y, b.pos.y, c.pos.y});
    return {whole(std::floor(x0 - origin.x)) - 1, whole(std::floor(y0 - origin.y)) - 1,
            whole(std::ceil(x1 - origin.x)) + 1, whole(std::ceil(y1 - origin.y)) + 1};
}

std::uint64_t mixed(std::uint64_t sum, std::uint64_t word) {
    sum ^= word;
    sum *= 0x9E3779B97F4A7C15ULL;  // the golden ratio's bits spread each word over all others
    return sum ^ (sum >> 29U);
}

std::uint64_t pair(float a, float b) {
    std::uint64_t word = 0;
    std::memcpy(&word, &a, sizeof a);
    std::memcpy(reinterpret_cast<char*>(&word) + sizeof a, &b, sizeof b);
    return word;
}

std::uint64_t with(std::uint64_t sum, const ImDrawVert& v) {
    return mixed(mixed(mixed(sum, pair(v.pos.x, v.pos.y)), pair(v.uv.x, v.uv.y)), v.col);
}

/// Patches that touch become one, for a pixel is painted once.
std::vector<Patch> apart(std::vector<Patch> patches) {
    for (std::size_t i = 0; i < patches.size();) {
        const auto other = std::find_if(patches.begin() + static_cast<std::ptrdiff_t>(i) + 1, patches.end(),
                                        [&](const Patch& p) { return !shared(p, patches[i]).empty(); });
        if (other == patches.end()) {
            ++i;
            continue;
        }
        patches[i] = both(patches[i], *other);
        patches.erase(other);
        i = 0;
    }
    return patches;
}

}  // namespace

Changes::List Changes::marks_of(const ImDrawList& list, const ImDrawData& data) {
    List marks;
    marks.reserve(static_cast<std::size_t>(list.IdxBuffer.Size) / 3);
    for (const ImDrawCmd& cmd : list.CmdBuffer) {
        const Patch clip = clip_of(cmd, data);
        std::uint64_t of_clip = mixed(static_cast<std::uint64_t>(clip.x0), static_cast<std::uint64_t>(clip.y0));
        of_clip = mixed(mixed(of_clip, static_cast<std::uint64_t>(clip.x1)), static_cast<std::uint64_t>(clip.y1));
        for (unsigned i = 0; i + 2 < cmd.ElemCount; i += 3) {
            const ImDrawIdx* const index = list.IdxBuffer.Data + cmd.IdxOffset + i;
            const ImDrawVert& a = list.VtxBuffer.Data[index[0] + cmd.VtxOffset];
            const ImDrawVert& b = list.VtxBuffer.Data[index[1] + cmd.VtxOffset];
            const ImDrawVert& c = list.VtxBuffer.Data[index[2] + cmd.VtxOffset];
            marks.push_back({with(with(with(of_clip, a), b), c), shared(clip, around(a, b, c, data.DisplayPos))});
        }
    }
    return marks;
}

/// Triangles that both have, in the same order in both, are left alone; around all others is what changed. Where there
/// are several ways to pair them, the first that comes along is as good as any: the patch may be larger, never too
/// small.
Patch Changes::difference(const List& before, const List& now) {
    Patch patch;
    std::size_t first = 0, before_end = before.size(), now_end = now.size();
    while (first < before_end && first < now_end && before[first].sum == now[first].sum) ++first;
    while (before_end > first && now_end > first && before[before_end - 1].sum == now[now_end - 1].sum)
        --before_end, --now_end;
    if (before_end == now_end) {
        for (std::size_t i = first; i < now_end; ++i) {
            if (before[i].sum != now[i].sum) grow(patch, before[i].at), grow(patch, now[i].at);
        }
        return patch;
    }
    std::unordered_multimap<std::uint64_t, std::size_t> places;
    for (std::size_t i = first; i < before_end; ++i) places.emplace(before[i].sum, i);
    std::size_t next = first;  // of those before, the first that may still be paired
    for (std::size_t i = first; i < now_end; ++i) {
        const auto [from, to] = places.equal_range(now[i].sum);
        std::size_t found = before_end;
        for (auto it = from; it != to; ++it) {
            if (it->second >= next) found = std::min(found, it->second);
        }
        if (found == before_end) {
            grow(patch, now[i].at);
            continue;
        }
        for (; next < found; ++next) grow(patch, before[next].at);
        ++next;
    }
    for (; next < before_end; ++next) grow(patch, before[next].at);
    return patch;
}

std::vector<Patch> Changes::since_last(const ImDrawData& data) {
    std::vector<List> now;
    for (int i = 0; i < data.CmdListsCount; ++i) now.push_back(marks_of(*data.CmdLists[i], data));
    const std::vector<List> before = std::exchange(last_, std::move(now));
    const ImVec2 size = std::exchange(size_, data.DisplaySize);
    const bool comparable = std::exchange(known_, true) && before.size() == last_.size() &&
                            size.x == data.DisplaySize.x && size.y == data.DisplaySize.y;
    if (!comparable) return {{0, 0, whole(data.DisplaySize.x), whole(data.DisplaySize.y)}};
    std::vector<Patch> patches;
    for (std::size_t i = 0; i < last_.size(); ++i) {
        const Patch patch = difference(before[i], last_[i]);
        if (!patch.empty()) patches.push_back(patch);
    }
    return apart(std::move(patches));
}

}  // namespace offsquare::gui
