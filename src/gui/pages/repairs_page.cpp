// Fourth page of the notebook: what puts each fault right, what it costs, and what speaks against doing it now.
#include <fmt/format.h>

#include "gui/pages/layout.h"
#include "gui/pages/notebook_pages.h"
#include "session/repair.h"

namespace offsquare::gui {

using layout::list_width;

namespace {

std::string standing_words(const Hunt& hunt, shop::Fault fault) {
    if (hunt.findings() == nullptr) return "";
    const diagnose::Belief& belief = hunt.findings()->diagnosis.beliefs[static_cast<std::size_t>(fault)];
    switch (session::standing_of(belief)) {
        case session::Standing::supported: return "there";
        case session::Standing::open: return fmt::format("open, {:.0f} in 100", 100.0 * belief.probability);
        case session::Standing::ruled_out: return "ruled out";
        case session::Standing::untouched: break;
    }
    return "not looked at";
}

void faults(Kit& kit, Hunt& hunt) {
    for (const shop::FaultInfo& fault : shop::faults()) {
        const std::string label = std::string(session::name_of(fault.fault)) + "##repair";
        if (list_row(kit, label.c_str(), standing_words(hunt, fault.fault), hunt.fault == fault.fault))
            hunt.fault = fault.fault;
    }
}

void against(Kit& kit, const Hunt& hunt) {
    if (hunt.findings() == nullptr) return quiet(kit, "Weighing the readings…");
    const std::vector<std::string> reasons = session::against_repair(*hunt.findings(), hunt.fault);
    line(kit, "Before you do it", Role::quiet, Face::label);
    if (reasons.empty())
        marked(kit, "The fault is there, and nothing that is still open could be mistaken for it.", Role::good);
    constexpr std::size_t most = 5;
    for (std::size_t i = 0; i < reasons.size() && i < most; ++i) marked(kit, reasons[i], Role::wrong);
    if (reasons.size() > most) quiet(kit, fmt::format("And {} more rivals are open.", reasons.size() - most));
}

void details(Kit& kit, const Bench& bench, const Hunt& hunt) {
    const shop::FaultInfo& fault = shop::info(hunt.fault);
    heading(kit, session::name_of(hunt.fault));
    const auto part = [&](const char* title, std::string_view words) {
        gap(kit, 4.0F);
        line(kit, title, Role::quiet, Face::label);
        paragraph(kit, base::said_in(words, bench.view.units));
    };
    if (hunt.findings() != nullptr)
        part("What the readings say",
             session::sentence_of(hunt.findings()->diagnosis.beliefs[static_cast<std::size_t>(hunt.fault)],
                                  bench.view.units));
    part("What it is", fault.wrong);
    part("How it shows", fault.shows);
    part("What puts it right", session::repair_sentence(hunt.fault, session::jams(bench.seen())));
    if (hunt.fault == shop::Fault::fence_skew)
        quiet(kit, "Or choose the shim yourself: go back to the saw and follow the job.");
    gap(kit, 8.0F);
    against(kit, hunt);
}

}  // namespace

void draw_repairs_page(Kit& kit, const Bench& bench, Hunt& hunt, const Area& area) {
    if (card_begin(kit, "4  Repairs: one for each fault", card_in(area))) {
        const float y = ImGui::GetCursorPosY() / kit.theme.scale;
        const float height = area.h - y - 16.0F;
        if (scroll_begin(kit, "repairs", list_width, height)) {
            ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, kit.px(2.0F)});
            faults(kit, hunt);
            ImGui::PopStyleVar();
        }
        scroll_end(kit);
        ImGui::SetCursorPos({kit.px(20.0F + list_width + 12.0F), kit.px(y)});
        if (plain_begin(kit, "details", area.w - list_width - 48.0F, height)) details(kit, bench, hunt);
        plain_end(kit);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
