// The form of a job as the page gets it.
#pragma once

#include "job/form/job_form.h"

#include <string>

namespace leastwall {

/// {"unit": "mm" or "inch" of bare numbers, "first": [field], "more": [{"title", "fields":
/// [field]}], "wrong": {path: text}, "understood": {path: text}}; a field has "path", "label",
/// "kind" ("choice", "readings", "text"), "help", "example", and where there are any "choices",
/// "value" (absent: left out) and "absent" (what leaving it out means).
std::string form_json(const JobForm& form, const TypedKeys& typed);

} // namespace leastwall
