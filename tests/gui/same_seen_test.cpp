// Two saws of which the same was seen: the window shows the same of them on every page, word by word and triangle
// by triangle.
#include "same_seen.h"

#include <doctest/doctest.h>

#include "repeats.h"
#include "window_support.h"

using namespace offsquare;
using same_seen::Pair;
using same_seen::text;
using session::History;
using window_test::settle;
using window_test::Window;

namespace {

std::string place(const ImVec2& v) { return text(static_cast<double>(v.x)) + text(static_cast<double>(v.y)); }

/// The bytes of a list of numbers.
template <class T>
void add_bytes(std::string& out, const T* first, int n) {
    out.append(reinterpret_cast<const char*>(first), static_cast<std::size_t>(n) * sizeof(T));
}

/// All triangles of this frame, in their colours and cut to their windows: with the font, which is the same for all,
/// they are what decides every pixel.
std::string triangles() {
    const ImDrawData* data = ImGui::GetDrawData();
    REQUIRE(data != nullptr);
    std::string out;
    for (int i = 0; i < data->CmdListsCount; ++i) {
        const ImDrawList& list = *data->CmdLists[i];
        add_bytes(out, list.VtxBuffer.Data, list.VtxBuffer.Size);
        add_bytes(out, list.IdxBuffer.Data, list.IdxBuffer.Size);
        for (const ImDrawCmd& c : list.CmdBuffer) {
            out += fmt::format("{} {} {} {} {} {} {};", c.ClipRect.x, c.ClipRect.y, c.ClipRect.z, c.ClipRect.w,
                               c.VtxOffset, c.IdxOffset, c.ElemCount);
        }
    }
    return out;
}

/// All that is drawn in this frame: what stands in the record, and the triangles.
std::string shown(Window& w) {
    std::string out;
    for (const gui::Drawn& d : w.window.record().items()) {
        const auto& [kind, label, value, lo, hi, enabled, selected, focused, cut, visible, em, stroke] = d;
        out += text(kind) + text(label) + text(value) + place(lo) + place(hi) + text(enabled) + text(selected) +
               text(focused) + text(cut) + text(visible) + text(static_cast<double>(em)) +
               text(static_cast<double>(stroke)) + "\n";
    }
    return out + triangles();
}

/// A window on this session as one opens it from a file.
void open(Window& w, const History& history) {
    w.bench.open(session::Replay{session::log_of(history), history, {}});
    w.frames(3);
}

std::vector<std::string> job_pages(const History& history) {
    Window w;
    open(w, history);
    std::vector<std::string> out{shown(w)};
    w.bench.view.progress = 2.4;  // while the cuts run
    w.frames(2);
    out.push_back(shown(w));
    w.bench.view.progress = 5.0;
    w.bench.show_class(true);
    w.frames(3);
    out.push_back(shown(w));
    return out;
}

/// Of every part of the set-up that can be seen at a saw.
std::vector<std::string> set_up_pages(const History& history) {
    Window w;
    open(w, history);
    w.bench.view.looking_at = session::Stage::set_up;
    w.frames(3);
    std::vector<std::string> out;
    for (const std::string group :
         {"fence", "board", "blade", "slots", "sled", "table", "caliper", "tape", "tolerance"}) {
        CHECK_MESSAGE(w.press((group + " ").c_str()), group);  // a chip's words, and no value behind them
        out.push_back(shown(w));
    }
    CHECK_FALSE(w.press("faults "));
    return out;
}

std::vector<std::string> notebook_pages(const History& history) {
    Window w;
    open(w, history);
    gui::open_notebook(w.state, true);
    std::vector<std::string> out;
    for (const session::Leaf leaf : {session::Leaf::symptom, session::Leaf::suspects, session::Leaf::checks,
                                     session::Leaf::repairs, session::Leaf::proof}) {
        w.state.notebook.hunt.page = leaf;
        w.frames(2);
        settle(w);
        out.push_back(shown(w));
    }
    return out;
}

const Pair& the(const std::string& name) {
    const std::vector<Pair>& all = same_seen::pairs();
    const auto at = std::find_if(all.begin(), all.end(), [&](const Pair& p) { return p.name == name; });
    REQUIRE_MESSAGE(at != all.end(), name);
    return *at;
}

void same(const std::vector<std::string>& one, const std::vector<std::string>& other) {
    REQUIRE(one.size() == other.size());
    for (std::size_t i = 0; i < one.size(); ++i) {
        CAPTURE(i);
        CHECK(one[i].size() > 10000);
        const bool equal = one[i] == other[i];  // nobody wants to read a hundred thousand bytes
        CHECK(equal);
    }
}

}  // namespace

TEST_CASE("two saws of which the same was seen: the page of the job and the class view are the same" *
          doctest::skip(repeats::sanitized)) {
    // tests/picture/same_seen_test.cpp holds all pairs to the bytes of the pictures; here it is the window around them.
    for (const std::string name : {"nothing done, in inches, on the right", "cut and not read, with another caliper",
                                   "the whole job, read exactly"}) {
        CAPTURE(name);
        const Pair& pair = the(name);
        same(job_pages(pair.one), job_pages(pair.other));
    }
}

TEST_CASE("two saws of which the same was seen: the set-up is the same" * doctest::skip(repeats::sanitized)) {
    const Pair& pair = the("nothing done");
    same(set_up_pages(pair.one), set_up_pages(pair.other));
}

TEST_CASE("two saws of which the same was seen: the pages of the notebook are the same" *
          doctest::skip(repeats::sanitized)) {
    const Pair& pair = the("read and worked out");
    same(notebook_pages(pair.one), notebook_pages(pair.other));
}

TEST_CASE("who asks to see the errors is shown two different saws" * doctest::skip(repeats::sanitized)) {
    const Pair& pair = the("nothing done");
    const auto revealed = [](const History& history) {
        Window w;
        open(w, history);
        w.bench.view.reveal = true;
        w.frames(3);
        std::string out = shown(w);
        w.bench.view.looking_at = session::Stage::set_up;
        w.frames(3);
        CHECK(w.press("faults "));
        return out + shown(w);
    };
    CHECK((revealed(pair.one) != revealed(pair.other)));
}
