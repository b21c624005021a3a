// What a program has freed, handed back to the system.
#pragma once

namespace offsquare::base {

/// The C library keeps what is freed, with the thread that freed it, for whoever asks next. This gives back the pages
/// of which nothing is used: worth some milliseconds after a burst. Where the library has no such call, nothing.
void give_back_freed_memory();

}  // namespace offsquare::base
