#include "job/keys/job_unit.h"

#include "job/keys/key_value.h"

namespace leastwall {

LengthUnit unit_of_job(const JobNode& root, std::string_view file) {
  const JobNode* node = root.find("units");
  if (!node)
    return LengthUnit::mm;
  return choice_value(*node, *find_key("", "units"), {file, LengthUnit::mm, "units"}) == "inch"
             ? LengthUnit::inch
             : LengthUnit::mm;
}

} // namespace leastwall
