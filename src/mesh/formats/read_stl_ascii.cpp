#include "mesh/formats/read_stl_ascii.h"

#include "base/file/refuse_file.h"
#include "mesh/nonfinite_vertices.h"
#include "mesh/stored_normals.h"
#include "mesh/syntax/text_scanner.h"
#include "mesh/vertex_welder.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::string_view kUtf8Mark = "\xef\xbb\xbf";
constexpr std::string_view kCutOff = "the file is cut off: export or copy it again";

std::string_view without_mark(std::string_view bytes) {
  if (bytes.substr(0, 3) == kUtf8Mark)
    bytes.remove_prefix(3);
  return bytes;
}

void expect(TextScanner& text, std::string_view keyword) {
  const std::string_view word = text.word();
  if (word.empty())
    text.refuse(fmt::format("ASCII STL ends where \"{}\" was expected", keyword), kCutOff);
  if (!is_word(word, keyword))
    text.refuse(fmt::format("\"{}\" found where \"{}\" was expected", one_line(word, 40), keyword),
                "export the mesh again");
}

Vec3 point(TextScanner& text) {
  const double x = text.number(), y = text.number(), z = text.number();
  return {x, y, z};
}

/// NUL bytes and the old end-of-text mark after the last solid are padding, not mesh.
bool is_padding(std::string_view rest) {
  return std::all_of(rest.begin(), rest.end(), [](char c) {
    return c == '\0' || c == '\x1a' || c == '\n' || c == '\r' || c == ' ' || c == '\t';
  });
}

} // namespace

bool looks_like_ascii_stl(std::string_view bytes) {
  bytes = without_mark(bytes);
  const std::filesystem::path nowhere;
  // Everything that matters stands near the start: name lines are short.
  TextScanner text(bytes.substr(0, 4096), nowhere);
  if (!is_word(text.word(), "solid"))
    return false;
  text.rest_of_line();
  const std::string_view next = text.word();
  if (is_word(next, "facet") || is_word(next, "endsolid"))
    return true;
  // Cut off early, or broken: still text when it has no bytes that text never has.
  return std::none_of(bytes.begin(),
                      bytes.begin() + std::min<std::ptrdiff_t>(512, std::ssize(bytes)), [](char c) {
                        return static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\r' &&
                               c != '\t' && c != '\f' && c != '\v';
                      });
}

FileMesh read_stl_ascii(const MappedFile& file, const RunContext& run) {
  FileMesh read;
  read.format = "ASCII STL";
  const std::string_view bytes = without_mark(file.text());
  TextScanner text(bytes, file.path());
  VertexWelder welder;
  NonfiniteVertices bad;
  StoredNormals normals;
  std::uint64_t facets = 0;

  for (std::string_view word = text.word(); !word.empty(); word = text.word()) {
    if (!is_word(word, "solid")) {
      if (facets > 0 && is_padding(word) && is_padding(text.left()))
        break;
      text.refuse(fmt::format("\"{}\" found where \"solid\" was expected", one_line(word, 40)),
                  "export the mesh again");
    }
    text.rest_of_line();
    for (;;) {
      word = text.word();
      if (is_word(word, "endsolid")) {
        text.rest_of_line();
        break;
      }
      if (word.empty())
        text.refuse(fmt::format("ASCII STL ends without \"endsolid\" after {} facets", facets),
                    kCutOff);
      if (!is_word(word, "facet"))
        text.refuse(fmt::format("\"{}\" found where \"facet\" was expected", one_line(word, 40)),
                    "export the mesh again");
      if ((facets & 0x3fff) == 0) {
        run.check();
        run.progress("reading", 1 - static_cast<double>(text.left().size()) /
                                        static_cast<double>(bytes.size()));
      }
      ++facets;
      expect(text, "normal");
      const Vec3 normal = point(text);
      expect(text, "outer");
      expect(text, "loop");
      Vec3 p[3];
      bool finite = true;
      for (Vec3& corner : p) {
        expect(text, "vertex");
        corner = point(text);
        if (!is_finite(corner)) {
          bad.add(text.line());
          finite = false;
        }
      }
      expect(text, "endloop");
      expect(text, "endfacet");
      if (!finite)
        continue;
      normals.add(normal, p[0], p[1], p[2]);
      const Tri tri{welder.add(p[0]), welder.add(p[1]), welder.add(p[2])};
      if (tri[0] == tri[1] || tri[1] == tri[2] || tri[2] == tri[0])
        ++read.collapsed;
      else
        read.mesh.triangles.push_back(tri);
    }
  }
  bad.refuse_any(file.path(), "line");
  if (facets == 0)
    refuse_file(file.path(), "ASCII STL without facets", "export the mesh again");
  read.mesh.vertices = welder.take_points();
  normals.describe(read.notices);
  return read;
}

} // namespace leastwall
