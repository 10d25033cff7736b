// The core for a page: bytes by name go in, a check is asked for, bytes by name come out. Nothing
// is printed and nothing ends but by returning.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

struct NamedBytes {
  std::string name; ///< as in the folder of reports; "check.txt"; "setup-sheet-a4.html" and so on
  std::string bytes;
};

/// What `leastwall check` answers.
struct Answer {
  int status = 3;      ///< exit status of the program
  std::string message; ///< what it prints on stderr, without its line end
  std::string summary; ///< summary_json(); empty where there is no result
  std::vector<NamedBytes> files;
};

/// Checks what `request` says, a JSON object:
/// "job": name of a job file; or "pocket", "skin": names of meshes, with "limit_mm" and, where
/// stated, "z_zero_mm", "bed_flatness_mm", "top_z_mm" and "units" ("mm", "inch").
/// "inches", "pad_reading_mm", "memory_limit_bytes": as the options of the program.
Answer answer_check(std::string_view request);

/// A job with keys changed, as edited_job() does it: the text of "job" (its name) in "text", keys
/// and values as the JSON of an advice has them in "set" (null: the key goes), or as they were
/// typed into its form in "typed". One file, or status and message.
Answer answer_change(std::string_view request);

/// The form of a job: "job" and "text" as above, and in "typed" what stands in some of its fields.
/// The summary is form_json().
Answer answer_form(std::string_view request);

} // namespace leastwall
