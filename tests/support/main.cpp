#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>

#if defined(__SANITIZE_THREAD__)
#include <dlfcn.h>

namespace {
// The sanitizer looks up the names of functions in what is loaded at its first report: so that it
// knows those of the module, that is loaded before anything else.
[[maybe_unused]] const void* const module =
    ::dlopen(LEASTWALL_BUILD_DIR "/leastwall-field.so", RTLD_NOW | RTLD_LOCAL);
} // namespace
#endif
