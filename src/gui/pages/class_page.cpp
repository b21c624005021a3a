// The class view: one result, one picture and one sentence, to be read from the back of a room.
#include "gui/pages/class_page.h"

#include <algorithm>
#include <cmath>

#include "gui/pages/paint.h"
#include "picture/class_view.h"

namespace offsquare::gui {
namespace {

/// Shares of the window's height. The rule of the house: no letters under 3.5 %, the result at least 6 %, no line under
/// 0.4 %.
constexpr float letters_share = 0.042F;
constexpr float sentence_share = 0.045F;
constexpr float result_share = 0.085F;
constexpr float least_result_share = 0.062F;
constexpr float mark_share = 0.055F;
constexpr float stroke_share = 0.0045F;
constexpr float edge_share = 0.035F;
constexpr float line_step = 1.25F;  ///< from one baseline to the next, in em

/// Lines of text in the middle of the page.
struct Block {
    std::vector<std::string> lines;
    float em = 0.0F;  ///< pixels
    float height() const { return static_cast<float>(lines.size()) * line_step * em; }
};

Block block_of(const Kit& kit, const std::string& text, float em, float width) {
    const double design = static_cast<double>(em / kit.theme.scale);
    const ImFont& font = *kit.fonts->nearest(design, Weight::semibold);
    return {wrapped(font, kit.fonts->text_size(design, Weight::semibold), text, width), em};
}

/// As large as fits in one line, but never below the least; then it wraps.
Block result_of(const Kit& kit, const std::string& text, float page_height, float width) {
    for (float share = result_share; share > least_result_share; share -= 0.004F) {
        Block block = block_of(kit, text, share * page_height, width);
        if (block.lines.size() == 1) return block;
    }
    return block_of(kit, text, least_result_share * page_height, width);
}

void draw_block(Kit& kit, ImDrawList& list, const Block& block, float middle, float top, Role role) {
    const double design = static_cast<double>(block.em / kit.theme.scale);
    float baseline = top + block.em;
    for (const std::string& text : block.lines) {
        const float width =
            text_at(kit, list, {middle, baseline}, text, design, Weight::semibold, kit.colour(role), 0.5F);
        kit.record.add({.kind = Kind::text,
                        .label = text,
                        .value = {},
                        .lo = {middle - 0.5F * width, baseline - 0.75F * block.em},
                        .hi = {middle + 0.5F * width, baseline + 0.22F * block.em},
                        .em = block.em});
        baseline += line_step * block.em;
    }
}

picture::Picture picture_of(const Bench& bench, session::ClassWords::Show show, const picture::ClassPage& page) {
    picture::ViewOptions options = bench.options();
    options.grips = false;
    switch (show) {
        case session::ClassWords::Show::chart: return picture::class_chart(bench.seen(), options, page);
        case session::ClassWords::Show::verdict: return picture::class_verdict(bench.seen(), options, page);
        case session::ClassWords::Show::table: break;
    }
    return picture::class_table(bench.seen(), options, page);
}

/// Green only when what was read passes.
Role tone_of_result(const Bench& bench) { return bench.seen().proved && !bench.cutting() ? Role::good : Role::text; }

void draw_picture(Kit& kit, const Bench& bench, ImDrawList& list, session::ClassWords::Show show, ImVec2 lo, ImVec2 hi,
                  float page_height) {
    const double scale = static_cast<double>(kit.theme.scale);
    const picture::ClassPage page{static_cast<double>(hi.x - lo.x) / scale, static_cast<double>(hi.y - lo.y) / scale,
                                  static_cast<double>(letters_share * page_height) / scale,
                                  static_cast<double>(stroke_share * page_height) / scale};
    const picture::Picture picture = picture_of(bench, show, page);
    paint(kit, list, picture, picture::fit(picture, page.width, page.height, 0.0), lo, &kit.record);
    kit.record.add({.kind = Kind::other, .label = picture.title, .value = {}, .lo = lo, .hi = hi});
}

}  // namespace

bool draw_class(Kit& kit, Bench& bench) {
    // Light ground whatever the person's own choice: a projector washes out a dark one.
    const Scheme own = kit.theme.scheme;
    kit.theme.scheme = Scheme::light;
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled({0.0F, 0.0F}, size, kit.colour(Role::ground));
    const float edge = edge_share * size.y;
    const session::ClassWords words = bench.class_words();
    // The result keeps clear of the mark, on both sides as it stands in the middle.
    const float mark_side = mark_share * size.y;
    ImGui::SetCursorPos({0.5F * edge, 0.5F * edge});
    const bool back = mark(kit, "To the first screen", mark_side / kit.theme.scale);
    const Block result = result_of(kit, words.result, size.y, size.x - 2.0F * (edge + mark_side));
    const bool says = bench.said_for > 0.0;
    const Block look = block_of(kit, says ? bench.said : words.look, sentence_share * size.y, size.x - 2.0F * edge);
    const float middle = 0.5F * size.x;
    draw_block(kit, list, result, middle, 0.5F * edge, tone_of_result(bench));
    const float foot = size.y - 0.6F * edge - look.height();
    draw_picture(kit, bench, list, words.show, {edge, 0.5F * edge + result.height() + 0.3F * edge},
                 {size.x - edge, foot - 0.4F * edge}, size.y);
    draw_block(kit, list, look, middle, foot, says && bench.said_is_bad ? Role::wrong : Role::text);
    kit.theme.scheme = own;
    return back;
}

}  // namespace offsquare::gui
