#include "gourd_mesh.h"

#include "curves.h"
#include "gourd_shape.h"
#include "mesh_stream.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

namespace leastwall::demo {
namespace {

// Rows run from the foot end to the neck end; points of a row run from the near rim to the far rim,
// once over the body and once over the flat at z = 0, which share the rim points. Rows have as many
// points as their length asks for; at either end a row is one point.
struct Cells {
  std::uint32_t body = 0, flat = 0;
};

struct Row {
  std::vector<Vec3> body, flat;
};

class GourdRows {
 public:
  GourdRows(GourdPart part, double cell_mm) : part_(part) {
    const double outline = shape_.section(1).from_foot;
    const auto rows = static_cast<std::size_t>(std::max(8.0, std::round(outline / cell_mm)));
    for (std::size_t i = 0; i <= rows; ++i) {
      const bool at_end = i == 0 || i == rows;
      cells_.push_back(at_end ? Cells{} : cells_for(shape_.section(along(i, rows)), cell_mm));
    }
  }

  std::size_t count() const { return cells_.size(); }

  std::uint32_t triangles() const {
    std::uint32_t n = 0; // each cell of a row belongs to the band before it and the band after
    for (const Cells& c : cells_)
      n += 2 * (c.body + c.flat);
    return n;
  }

  Row row(std::size_t index) const {
    const auto s = shape_.section(along(index, count() - 1));
    const Cells n = cells_[index];
    Row row;
    for (std::uint32_t j = 0; j <= n.body; ++j)
      row.body.push_back(body_point(s, n.body == 0 ? 0 : (2.0 * j - n.body) / n.body));
    const Vec3 near = row.body.front(), far = row.body.back();
    row.flat.push_back(near);
    for (std::uint32_t j = 1; j < n.flat; ++j) {
      const double w = static_cast<double>(j) / n.flat;
      row.flat.push_back({mix(near.x, far.x, w), mix(near.y, far.y, w), 0});
    }
    if (n.flat > 0)
      row.flat.push_back(far);
    return row;
  }

 private:
  static double along(std::size_t index, std::size_t rows) {
    return static_cast<double>(index) / static_cast<double>(rows);
  }

  // `side` from -1 (near rim) to 1 (far rim).
  Vec3 body_point(const GourdShape::Section& s, double side) const {
    return part_ == GourdPart::skin ? shape_.skin(s, side * s.skin_reach) : shape_.pocket(s, side);
  }

  Cells cells_for(const GourdShape::Section& s, double cell_mm) const {
    constexpr int steps = 64;
    double length = 0;
    for (int j = 0; j < steps; ++j)
      length +=
          distance(body_point(s, 2.0 * j / steps - 1), body_point(s, 2.0 * (j + 1) / steps - 1));
    const double width = distance(body_point(s, -1), body_point(s, 1));
    const auto whole = [](double cells, double least) {
      return static_cast<std::uint32_t>(std::max(least, std::round(cells)));
    };
    // Finer across the ribs than along them; the flat is coarser.
    return {whole(length / (0.72 * cell_mm), 3), whole(width / (1.3 * cell_mm), 2)};
  }

  GourdShape shape_;
  GourdPart part_;
  std::vector<Cells> cells_;
};

// Triangles between two rows of points that end at the same sides; facets face up when `b` lies to
// the right of `a`, down when the rows are given the other way round.
void write_strip(StlStream& out, const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  const std::size_t na = a.size() - 1, nb = b.size() - 1;
  std::size_t i = 0, j = 0;
  while (i < na || j < nb) {
    // Step along the row that is behind: (i + 1/2) / na against (j + 1/2) / nb, in whole numbers.
    const bool step_a = j == nb || (i < na && (2 * i + 1) * nb <= (2 * j + 1) * na);
    if (step_a) {
      out.triangle(a[i], b[j], a[i + 1]);
      ++i;
    } else {
      out.triangle(a[i], b[j], b[j + 1]);
      ++j;
    }
  }
}

} // namespace

std::uint32_t write_gourd(const std::filesystem::path& path, const GourdMeshOptions& options) {
  // The number of triangles goes with one over the square of the cell: two steps come close.
  double cell_mm = 1.0;
  for (int i = 0; i < 2; ++i)
    cell_mm *= std::sqrt(static_cast<double>(GourdRows(options.part, cell_mm).triangles()) /
                         options.triangles);
  const GourdRows rows(options.part, cell_mm);
  StlStream out(path, rows.triangles());
  Row last = rows.row(0);
  for (std::size_t i = 1; i < rows.count(); ++i) {
    Row row = rows.row(i);
    write_strip(out, last.flat, row.flat);
    write_strip(out, row.body, last.body);
    last = std::move(row);
  }
  out.close();
  return rows.triangles();
}

} // namespace leastwall::demo
