// The program on meshes that leave the walls unproven: every output says so, and none says safe.
#include "app/small_piece.h"

#include <nlohmann/json.hpp>

using namespace leastwall;
using namespace leastwall::test;
using Json = nlohmann::json;

namespace {

Json warning(const Json& result, const std::string& code) {
  for (const Json& w : result["warnings"])
    if (w["code"] == code)
      return w;
  return {};
}

} // namespace

TEST_CASE("a pocket face stated above the flat: unproven, with the walls that are there") {
  const SmallPiece piece; // 2 mm of wall, flat at z = 0
  const RunResult r = piece.check({"--top-z", "5", "--json", "-"});
  CHECK(r.status == 1);
  const Json result = Json::parse(r.out);
  CHECK(result["verdict"] == "unproven");
  CHECK(result["least_wall"]["design_mm"] == doctest::Approx(2));
  CHECK(warning(result, "face-disagrees")["severity"] == "unproven");
  const RunResult text = piece.check({"--top-z", "5"});
  CHECK(text.out.starts_with("LOOK FIRST\n  - You said the pocket face is at z = 5.000 mm"));
  CHECK_FALSE(has(text.out, "CUT THROUGH"));
  CHECK_FALSE(has(text.out, "EVERY WALL HOLDS"));
}

TEST_CASE("a hole over the thin place: unproven in text, JSON and page") {
  const SmallPiece piece;
  TriMesh skin = shapes::subdivided(shapes::subdivided(shapes::box({-40, -30, -20}, {40, 30, 0})));
  std::erase_if(skin.triangles, [&](const Tri& t) {
    const Vec3 m = (skin.vertices[t[0]] + skin.vertices[t[1]] + skin.vertices[t[2]]) / 3.0;
    return m.z < -19.9 && std::abs(m.x - 3) < 12 && std::abs(m.y + 7) < 12;
  });
  piece.folder.file("skin.stl", binary_stl(skin));
  const std::string out = (piece.folder.path() / "out").string();
  const RunResult r = piece.check({"--out", out});
  CHECK(r.status == 1);
  CHECK(has(r.out, "LOOK FIRST\n  - The skin has a hole of "));
  const Json result = Json::parse(file_text(out + "/check.json"));
  CHECK(result["verdict"] == "unproven");
  CHECK(result["advice"].empty());
  const std::string page = file_text(out + "/report.html");
  CHECK(has(page, "data-verdict=\"unproven\""));
  CHECK(has(page, "<p id=\"banner\">LOOK FIRST</p>"));
  CHECK(has(page, "<p class=\"look-first\">The skin has a hole of "));
}

TEST_CASE("a model of 100 mm read as inches says its size and is unproven") {
  const SmallPiece piece(2, 1.25);
  const RunResult r = piece.check({"--units", "inch", "--json", "-"});
  CHECK(r.status == 1);
  const Json result = Json::parse(r.out);
  CHECK(result["verdict"] == "unproven");
  CHECK(has(warning(result, "size-beyond")["text"], "2540.0 x 1905.0 x 635.0 mm"));
  // And the note on a unit that no one stated says what size it gives.
  const Json plain = Json::parse(piece.check({"--json", "-"}).out);
  CHECK(has(warning(plain, "unit-assumed")["text"], " mm, so it is "));
}
