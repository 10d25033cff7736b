#include "base/text/base64.h"

#include <doctest/doctest.h>
#include <vector>

using namespace leastwall;

// Test vectors: RFC 4648, section 10.
TEST_CASE("base64 of the RFC's test vectors") {
  const auto of = [](std::string_view text) {
    return base64(std::vector<std::uint8_t>(text.begin(), text.end()));
  };
  CHECK(of("") == "");
  CHECK(of("f") == "Zg==");
  CHECK(of("fo") == "Zm8=");
  CHECK(of("foo") == "Zm9v");
  CHECK(of("foob") == "Zm9vYg==");
  CHECK(of("fooba") == "Zm9vYmE=");
  CHECK(of("foobar") == "Zm9vYmFy");
}
