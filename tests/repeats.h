#pragma once
/// \file
/// How often a test repeats itself. Under the sanitizers everything takes five to fifty times as long, and what they
/// look for (memory, undefined behaviour) shows in the first repeats; what the other repeats prove is proved by the
/// build without them. So there random loops are shorter, and a case that only repeats the path of another, or counts
/// how often something comes true, is skipped.
namespace repeats {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool sanitized = true;
#else
constexpr bool sanitized = false;
#endif

/// `all` times, or `few` under the sanitizers.
constexpr int of(int all, int few) { return sanitized ? few : all; }

}  // namespace repeats
