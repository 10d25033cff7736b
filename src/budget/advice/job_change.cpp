#include "budget/advice/job_change.h"

#include "causes/model/cause_terms.h"

#include <utility>

namespace leastwall {

JobChange error_change(std::string key, const Uncertain& error) {
  if (error.knowledge == Knowledge::standard)
    return {std::move(key), error};
  return {std::move(key), error.size_mm};
}

JobChange in_unit(JobChange change, LengthUnit unit) {
  const double mm = millimetres_per(unit);
  if (auto* length = std::get_if<double>(&change.value))
    *length /= mm;
  if (auto* lengths = std::get_if<std::vector<double>>(&change.value))
    for (double& v : *lengths)
      v /= mm;
  if (auto* error = std::get_if<Uncertain>(&change.value))
    error->size_mm /= mm;
  return change;
}

} // namespace leastwall
