// A part as it lies on the board: mirrored, turned, moved.
#pragma once

#include "job/job.h"
#include "mesh/mesh.h"
#include "space/box.h"
#include "space/footprint.h"

namespace leastwall {

/// From the part's own frame to the board's and back. Quarter turns are exact; z stays.
class OnBoard {
 public:
  explicit OnBoard(const BoardPlacing& placing);

  bool moves() const { return moves_; }
  bool mirrored() const { return mirror_ < 0; }
  Vec3 place(Vec3 p) const;
  Vec3 direction(Vec3 n) const; ///< mirrored and turned, not moved
  Point2 back(Point2 on_board) const;
  /// The upright box round the placed box.
  Box place(const Box& box) const;
  /// The upright box round the placed mesh.
  Box box_of(const TriMesh& mesh) const;

 private:
  double cosine_ = 1, sine_ = 0, mirror_ = 1;
  Point2 place_;
  bool moves_ = false;
};

} // namespace leastwall
