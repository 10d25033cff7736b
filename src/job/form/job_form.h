// A job file as a form: every key that stands once in it, with what it says, and what is typed.
#pragma once

#include "base/units.h"
#include "job/edit_job.h"
#include "job/keys/known_keys.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

struct FormField {
  std::string path; ///< with its tables, "side_b.touch_point"
  const KnownKey* key = nullptr;
  std::string_view question;         ///< of the dozen that matter first; else empty
  std::optional<std::string> stated; ///< as a field shows it; absent: left out
};

struct JobForm {
  LengthUnit unit = LengthUnit::mm; ///< of bare numbers
  std::vector<FormField> first;     ///< the dozen, in the order of the work
  std::vector<FormField> more;      ///< all others, in the order of a sample job
};

/// Keys of parts, pockets, holes and of the pour are not among them: of these there may be several.
/// Nor is `units`: another one would change every bare number.
/// Throws InputError where the text is not TOML, or `units` no word that is known.
JobForm form_of_job(std::string_view text, std::string_view file);

/// What was typed into a field.
struct TypedKey {
  std::string path, typed; ///< nothing: the key is left out
};

struct FieldNote {
  std::string path, text;
};

struct TypedKeys {
  std::vector<KeyEdit> edits;        ///< of those that are understood
  std::vector<FieldNote> wrong;      ///< of the others what is wrong, in words of the reader
  std::vector<FieldNote> understood; ///< how readings were read
};

/// Each value on its own, as the reader of jobs judges it in this job: kind, words, range; what is
/// left out and then counts as 0 is told, and refused of a bed that was not read. That
/// values contradict one another shows when the job is read. Throws InputError where the text is no
/// job.
TypedKeys typed_keys(std::string_view text, std::string_view file, std::span<const TypedKey> typed);

} // namespace leastwall
