// A log as text for other programs: CSV and JSON. The keys are a contract; units stand in the names.
#pragma once

#include <string>

#include "saws/history.h"
#include "session/form.h"

namespace offsquare::saws {

inline constexpr int schema_version = 1;

/// RFC 4180 with a header line and CR LF: an entry a line, also those that were corrected. Columns: number, date,
/// written, corrects, counts (yes or no), kind, text, fence_end_mm, far_end_mm (means), length_mm, span_mm, side,
/// fence_skew_rad, u_skew_rad, state.
std::string csv_text(const Sled& sled);

/// `schema_version`, `name`, `saw`, `units`, `behind_left_mm`, `behind_right_mm`; `newest` (the newest strip: entry,
/// date, `fence_skew_rad`, `u_skew_rad`, `shim_mm`, `at`, `u_shim_mm`, `coverage95_mm`, `u_widths_mm` and `why` as
/// `offsquare shim --json` has them, `state`, `tolerance_rad`, `stack` and `stack_mm` from the drawer); `verdict`
/// (about the fence, all its tests together: `state`, `fence_skew_rad`, `coverage95_rad`); `curve`; `entries`;
/// `diagnosis` (as `offsquare diagnose
/// --json`; null without `findings`).
std::string json_text(const Sled& sled, const session::Findings* findings);

/// `sled`, `faults`, `unseparated`, `contradictions`, `next`: the diagnosis as a document.
session::Json diagnosis_form(const session::Findings& findings);

}  // namespace offsquare::saws
