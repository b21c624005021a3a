#include "session/actions/act.h"

namespace offsquare::session {

std::string lower_first(std::string_view text) {
    std::string out(text);
    if (out.size() > 1 && out[0] >= 'A' && out[0] <= 'Z') out[0] = static_cast<char>(out[0] - 'A' + 'a');
    return out;
}

}  // namespace offsquare::session
