// Debian's Assimp is built with its assertions on, and they abort. This takes the place of its
// handler and turns a failed assertion into an exception, which the importer reports as an error.
#include <stdexcept>
#include <string>

namespace Assimp {

__attribute__((visibility("default"))) void aiAssertViolation(const char* expression, const char*,
                                                              int);

void aiAssertViolation(const char* expression, const char*, int) {
  throw std::runtime_error(std::string("the importer's own check failed: ") + expression);
}

} // namespace Assimp
