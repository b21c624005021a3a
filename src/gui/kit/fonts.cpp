#include "gui/kit/fonts.h"

#include <fontconfig/fontconfig.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace offsquare::gui {

const std::u32string_view needed_characters = U"″′≈→←↑↓Δθσ−×÷±≤≥°µ√²³½¼¾✓–—·•“”‘’…«»äöüßéèñç€§ \u00A0\u2007\u2009";

namespace {

struct FaceKind {
    double em;
    Weight weight;
};

// In the order of Face.
constexpr std::array<FaceKind, face_count> kinds{{
    {12.0, Weight::regular},
    {12.5, Weight::regular},
    {12.5, Weight::semibold},
    {13.0, Weight::regular},
    {13.0, Weight::semibold},
    {13.5, Weight::regular},
    {13.5, Weight::semibold},
    {14.0, Weight::regular},
    {14.0, Weight::semibold},
    {15.0, Weight::semibold},
    {16.0, Weight::semibold},
    {17.0, Weight::semibold},
    {19.0, Weight::semibold},
    {26.0, Weight::semibold},
    {48.0, Weight::semibold},
}};

// Built besides the faces, for words on the plan.
constexpr std::array<FaceKind, 4> extra{
    {{12.5, Weight::medium}, {17.0, Weight::regular}, {26.0, Weight::regular}, {96.0, Weight::semibold}}};

// Latin with its extension for translations, the Greek of the working, punctuation, arrows, signs of arithmetic, ticks.
constexpr std::array<ImWchar, 19> ranges{0x0020, 0x007E, 0x00A0, 0x017F, 0x0391, 0x03C9, 0x2007, 0x2044, 0x20AC, 0x20AC,
                                         0x2190, 0x2193, 0x2200, 0x2265, 0x2713, 0x2713, 0xFFFD, 0xFFFD, 0};

// For the largest letters of the class view: only what its sentences are made of, as the atlas would grow too large.
constexpr double few_letters_above = 60.0;  ///< em
constexpr std::array<ImWchar, 13> few_ranges{0x0020, 0x007E, 0x00A0, 0x00FF, 0x2010, 0x2026, 0x2032,
                                             0x2033, 0x2212, 0x2212, 0xFFFD, 0xFFFD, 0};

struct FoundFont {
    std::string file;
    int index = 0;
    bool wanted_family = false;
};

int fontconfig_weight(Weight weight) {
    if (weight == Weight::regular) return FC_WEIGHT_REGULAR;
    return weight == Weight::medium ? FC_WEIGHT_MEDIUM : FC_WEIGHT_DEMIBOLD;
}

/// The file of exactly this family, or nothing: fontconfig itself answers with any font at all.
std::optional<FoundFont> find_font(FcConfig* config, const char* family, Weight weight) {
    FcPattern* pattern = FcPatternCreate();
    FcPatternAddString(pattern, FC_FAMILY, reinterpret_cast<const FcChar8*>(family));
    FcPatternAddInteger(pattern, FC_WEIGHT, fontconfig_weight(weight));
    FcPatternAddInteger(pattern, FC_SLANT, FC_SLANT_ROMAN);
    FcPatternAddBool(pattern, FC_SCALABLE, FcTrue);
    FcConfigSubstitute(config, pattern, FcMatchPattern);
    FcDefaultSubstitute(pattern);
    FcResult result = FcResultNoMatch;
    FcPattern* match = FcFontMatch(config, pattern, &result);
    std::optional<FoundFont> found;
    FcChar8* name = nullptr;
    FcChar8* file = nullptr;
    if (match != nullptr && FcPatternGetString(match, FC_FAMILY, 0, &name) == FcResultMatch &&
        FcStrCmpIgnoreCase(name, reinterpret_cast<const FcChar8*>(family)) == 0 &&
        FcPatternGetString(match, FC_FILE, 0, &file) == FcResultMatch) {
        found = FoundFont{reinterpret_cast<const char*>(file), 0, true};
        FcPatternGetInteger(match, FC_INDEX, 0, &found->index);
    }
    if (match != nullptr) FcPatternDestroy(match);
    FcPatternDestroy(pattern);
    return found;
}

/// Inter, else DejaVu Sans, else nothing.
std::optional<FoundFont> find_letters(FcConfig* config, Weight weight) {
    if (config == nullptr) return std::nullopt;
    if (auto inter = find_font(config, "Inter", weight)) return inter;
    auto stand_in = find_font(config, "DejaVu Sans", weight == Weight::semibold ? Weight::semibold : Weight::regular);
    if (stand_in) stand_in->wanted_family = false;
    return stand_in;
}

/// Line height over em size: ImGui's sizes are line heights, the sketch's are em sizes. 0 if the file cannot be read.
float line_over_em(const FoundFont& font) {
    FT_Library library = nullptr;
    if (FT_Init_FreeType(&library) != 0) return 0.0F;
    FT_Face face = nullptr;
    float ratio = 0.0F;
    if (FT_New_Face(library, font.file.c_str(), font.index, &face) == 0) {
        if (face->units_per_EM > 0)
            ratio = static_cast<float>(face->ascender - face->descender) / static_cast<float>(face->units_per_EM);
        FT_Done_Face(face);
    }
    FT_Done_FreeType(library);
    return ratio;
}

ImFontConfig font_config(const FoundFont& font, float scale) {
    ImFontConfig config;
    config.FontNo = font.index;
    // Thirds of a pixel sideways keep the spacing of the designer at small sizes; whole-pixel advances would spread
    // Inter by half a pixel a letter.
    config.OversampleH = scale < 1.6F ? 3 : 2;
    config.OversampleV = 1;
    config.PixelSnapH = false;
    config.GlyphRanges = ranges.data();
    config.FontDataOwnedByAtlas = true;
    return config;
}

/// All ten digits get one advance, each centred in it: figures line up, and do not jump when they change. The mean of
/// the ten is nearer to a designer's tabular figures than the widest (Inter's own 0 would make every number a tenth too
/// wide); no digit's ink may be wider than it.
void even_digits(ImFont& font) {
    float sum = 0.0F;
    float ink = 0.0F;
    for (const ImFontGlyph& glyph : font.Glyphs) {
        if (glyph.Codepoint < '0' || glyph.Codepoint > '9') continue;
        sum += glyph.AdvanceX;
        ink = std::max(ink, glyph.X1 - glyph.X0);
    }
    const float advance = std::max(sum / 10.0F, ink);
    for (ImFontGlyph& glyph : font.Glyphs) {
        if (glyph.Codepoint < '0' || glyph.Codepoint > '9') continue;
        const float shift = (advance - glyph.AdvanceX) / 2.0F;
        glyph.X0 += shift;
        glyph.X1 += shift;
        glyph.AdvanceX = advance;
    }
    for (ImWchar c = '0'; c <= '9'; ++c) font.IndexAdvanceX[c] = advance;
}

std::size_t slot(Weight weight) { return static_cast<std::size_t>(weight); }

}  // namespace

double em_of(Face face) { return kinds.at(static_cast<std::size_t>(face)).em; }

Fonts::Fonts(float scale) : scale_(scale), atlas_(std::make_unique<ImFontAtlas>()), line_per_em_(3, 1.21F) {
    atlas_->TexDesiredWidth = scale > 1.25F ? 4096 : 2048;
    FcConfig* config = FcInitLoadConfigAndFonts();
    std::array<std::optional<FoundFont>, 3> files;
    for (const Weight weight : {Weight::regular, Weight::medium, Weight::semibold}) {
        auto& file = files.at(slot(weight));
        file = find_letters(config, weight);
        const float ratio = file ? line_over_em(*file) : 0.0F;
        if (ratio <= 0.0F) file.reset();
        else line_per_em_[slot(weight)] = ratio;
        if (file && !file->wanted_family)
            warning_ = "The font Inter was not found; DejaVu Sans stands in. Install the package fonts-inter.";
        if (!file) warning_ = "No usable font was found; some signs will be missing. Install the package fonts-inter.";
    }
    if (config != nullptr) FcConfigDestroy(config);
    const auto add = [&](const FaceKind& kind) {
        const auto& file = files.at(slot(kind.weight));
        const float size = static_cast<float>(kind.em) * scale * line_per_em_[slot(kind.weight)];
        ImFontConfig wanted = file ? font_config(*file, scale) : ImFontConfig();
        if (kind.em > few_letters_above) wanted.GlyphRanges = few_ranges.data(), wanted.OversampleH = 1;
        ImFont* font = file ? atlas_->AddFontFromFileTTF(file->file.c_str(), size, &wanted) : nullptr;
        if (font == nullptr) {
            wanted = ImFontConfig();
            wanted.SizePixels = std::round(size);
            font = atlas_->AddFontDefault(&wanted);
        }
        faces_.push_back(font);
    };
    std::for_each(kinds.begin(), kinds.end(), add);
    std::for_each(extra.begin(), extra.end(), add);
    atlas_->Build();
    for (ImFont* font : faces_) even_digits(*font);
}

Fonts::~Fonts() = default;

ImFont* Fonts::face(Face face) const { return faces_.at(static_cast<std::size_t>(face)); }

ImFont* Fonts::nearest(double em, Weight weight) const {
    ImFont* best = nullptr;
    ImFont* largest = nullptr;
    const float wanted = text_size(em, weight);
    for (std::size_t i = 0; i < faces_.size(); ++i) {
        const FaceKind& kind = i < kinds.size() ? kinds.at(i) : extra.at(i - kinds.size());
        // Medium is built at one size only; above it the semibold is nearer than a blown-up medium.
        const bool same =
            kind.weight == weight || (weight == Weight::medium && kind.weight == Weight::semibold && em > 12.5);
        if (!same) continue;
        if (largest == nullptr || faces_[i]->FontSize > largest->FontSize) largest = faces_[i];
        if (faces_[i]->FontSize >= wanted - 0.01F && (best == nullptr || faces_[i]->FontSize < best->FontSize))
            best = faces_[i];
    }
    if (best != nullptr) return best;
    return largest != nullptr ? largest : faces_.front();
}

float Fonts::text_size(double em, Weight weight) const {
    return static_cast<float>(em) * scale_ * line_per_em_.at(slot(weight));
}

}  // namespace offsquare::gui
