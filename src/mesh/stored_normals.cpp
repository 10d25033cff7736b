#include "mesh/stored_normals.h"

#include <fmt/format.h>

namespace leastwall {

void StoredNormals::describe(std::vector<Notice>& notices) const {
  if (against * 20 > compared)
    notices.push_back({"normals-disagree",
                       fmt::format("{} of {} stored normals contradict the order of the corners. "
                                   "The corners were used; the wall does not depend on either.",
                                   against, compared)});
}

} // namespace leastwall
