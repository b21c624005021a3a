#include "base/heap.h"

#if __has_include(<malloc.h>)
#include <malloc.h>
#endif

namespace offsquare::base {

void give_back_freed_memory() {
#ifdef __GLIBC__
    malloc_trim(0);
#endif
}

}  // namespace offsquare::base
