#include "picture/writers.h"

#include <cairo-pdf.h>
#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <memory>

#include "base/save.h"
#include "picture/cairo_canvas.h"
#include "picture/svg_canvas.h"

namespace offsquare::picture {
namespace {

using base::Grade;
using SurfacePtr = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;
using ContextPtr = std::unique_ptr<cairo_t, decltype(&cairo_destroy)>;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

base::Result<void> paint_by_cairo(const Picture& picture, const Page& page, cairo_surface_t* surface, double scale) {
    const ContextPtr context(cairo_create(surface), &cairo_destroy);
    cairo_scale(context.get(), scale, scale);
    CairoCanvas canvas(context.get());
    paint(picture, page.width, page.height, page.scheme, canvas);
    const cairo_status_t status = cairo_status(context.get());
    if (status != CAIRO_STATUS_SUCCESS)
        return base::fail(Grade::our_fault,
                          fmt::format("The picture could not be drawn: {}.", cairo_status_to_string(status)));
    return {};
}

base::Result<std::string> render_png(const Picture& picture, const Page& page) {
    const int width = static_cast<int>(std::lround(page.width * page.scale));
    const int height = static_cast<int>(std::lround(page.height * page.scale));
    const SurfacePtr surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height), &cairo_surface_destroy);
    if (const auto done = paint_by_cairo(picture, page, surface.get(), page.scale); !done)
        return tl::unexpected(done.error());
    std::string bytes;
    cairo_surface_write_to_png_stream(surface.get(), &append, &bytes);
    return bytes;
}

base::Result<std::string> render_pdf(const Picture& picture, const Page& page) {
    std::string bytes;
    const SurfacePtr surface(cairo_pdf_surface_create_for_stream(&append, &bytes, page.width, page.height),
                             &cairo_surface_destroy);
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, picture.title.c_str());
    // A fixed date: the same picture is the same file.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    if (const auto done = paint_by_cairo(picture, page, surface.get(), 1.0); !done) return tl::unexpected(done.error());
    cairo_surface_finish(surface.get());
    return bytes;
}

/// The ending in small letters, without its dot.
std::string kind_of(const std::string& path) {
    std::string kind = std::filesystem::path(path).extension().string();
    if (!kind.empty()) kind.erase(0, 1);
    for (char& c : kind) c = (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
    return kind;
}

}  // namespace

base::Result<std::string> render(const Picture& picture, const Page& page, const std::string& kind) {
    if (kind == "svg") {
        SvgCanvas canvas(page.width, page.height, picture.title);
        paint(picture, page.width, page.height, page.scheme, canvas);
        return canvas.finish();
    }
    if (kind == "png") return render_png(picture, page);
    if (kind == "pdf") return render_pdf(picture, page);
    return base::fail(
        Grade::usage,
        fmt::format("\"{}\" is no kind of picture. Allowed: svg, png, pdf. For example: table.svg", kind));
}

base::Result<void> write(const Picture& picture, const Page& page, const std::string& path) {
    const std::string kind = kind_of(path);
    if (kind != "svg" && kind != "png" && kind != "pdf") {
        return base::fail(
            Grade::usage,
            fmt::format(
                "{}: a picture's name must end in .svg, .png or .pdf; this one ends in {}. For example: table.svg",
                path, kind.empty() ? "nothing" : "\"." + kind + "\""));
    }
    const auto bytes = render(picture, page, kind);
    if (!bytes) return tl::unexpected(bytes.error());
    return base::save(path, *bytes, base::Old::drop);
}

}  // namespace offsquare::picture
