// The hand that pushes the sled, as typed: --at, --to and --force, for every verb that takes them.
#pragma once

#include <string>

#include "base/quantity.h"
#include "base/result.h"
#include "cli/arguments.h"
#include "contact/push.h"

namespace offsquare::cli {

/// A force in N from `least` up, when the option was typed.
base::Result<void> take_number(const Arguments& arguments, const std::string& option, double least, double& number);

/// What stands in the scenario, and over it what was typed. It pushes.
base::Result<contact::HandPush> hand_of(const Arguments& arguments, const shop::Feed& feed, base::Units units);

}  // namespace offsquare::cli
