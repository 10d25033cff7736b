#include "report/words/short_warnings.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

Notice open_mesh(NoticeAbout about, Severity severity = Severity::warning) {
  return {"open-edges", "The mesh is open: 12 edges.", severity, about};
}

} // namespace

TEST_CASE("open meshes are told once") {
  const Notice unit{"unit-assumed", "Read as mm.", Severity::warning, NoticeAbout::pocket_mesh};
  const auto both = short_warnings(
      {open_mesh(NoticeAbout::pocket_mesh), unit, open_mesh(NoticeAbout::skin_mesh)});
  REQUIRE(both.size() == 2);
  CHECK(both[0].text ==
        "Pocket and skin are open meshes: right for relief sheets; close what should be solid.");
  CHECK(both[1] == unit);
  CHECK(short_warnings({open_mesh(NoticeAbout::skin_mesh)}).at(0).text ==
        "The skin is an open mesh: right for relief sheets; close what should be solid.");
  CHECK(short_warnings({open_mesh(NoticeAbout::piece)}).at(0).text ==
        "The mesh is open: 12 edges.");
}

TEST_CASE("what stands under the verdict is not told again, all other warnings are") {
  const Notice doubt = open_mesh(NoticeAbout::skin_mesh, Severity::doubt);
  const Notice unproven{"hole", "A hole.", Severity::unproven};
  const Notice plain{"pad-no-room", "No room."};
  CHECK(short_warnings({doubt, unproven, plain}) == std::vector<Notice>{plain});
}
