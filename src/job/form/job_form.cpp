#include "job/form/job_form.h"

#include "base/errors.h"
#include "job/form/typed_value.h"
#include "job/keys/job_unit.h"
#include "job/keys/key_value.h"
#include "job/toml/job_error.h"
#include "job/toml/parse_toml.h"

#include <algorithm>
#include <utility>

namespace leastwall {
namespace {

/// What matters first, in the order of the work.
constexpr std::pair<std::string_view, std::string_view> kFirst[] = {
    {"limit", "Thinnest wall you accept"},
    {"accepted_chance", "How many pieces may come out too thin"},
    {"board.thickness", "Thickness of the board that both programs assume"},
    {"board.thickness_error", "How far the real board may be from that"},
    {"side_a.zero", "Side A, the pocket: where is Z zero touched?"},
    {"side_a.touch_point", "Side A: over which point of the part?"},
    {"side_a.touch_off", "Side A: error of a touch-off, plus or minus"},
    {"bed.flatness", "Bed under the work: highest minus lowest place"},
    {"flip.line", "How is the board turned over?"},
    {"flip.located_by", "What brings it back to its place?"},
    {"flip.dowels.clearance", "Play of the dowels: hole less pin"},
    {"side_b.zero", "Side B, the skin: where is Z zero touched?"},
    {"side_b.touch_point", "Side B: over which point of the part?"},
    {"side_b.touch_off", "Side B: error of a touch-off, plus or minus"},
    {"side_b.sanding", "Wood that sanding takes off the skin"},
};

bool several(const KnownKey& key) {
  return key.type == KeyType::tables || key.schema == "pour";
}

/// Of a table that may be left out all keys may.
bool in_every_job(const KnownKey& key) {
  return key.owner.empty() || key.owner == "board" || key.owner == "side";
}

void add_keys(std::string_view schema, const std::string& table, std::vector<FormField>& out) {
  for (const KnownKey* key : keys_of(schema)) {
    if (several(*key) || key->name == "units") // every bare number of the job is in it
      continue;
    const std::string path =
        table.empty() ? std::string(key->name) : table + "." + std::string(key->name);
    if (key->type == KeyType::table)
      add_keys(key->schema, path, out);
    else
      out.push_back({path, key, {}, std::nullopt});
  }
}

std::vector<FormField> all_fields() {
  std::vector<FormField> fields;
  add_keys("", "", fields);
  return fields;
}

const JobNode* find(const JobNode& root, std::string_view path) {
  const JobNode* node = &root;
  while (node && !path.empty()) {
    const std::size_t dot = std::min(path.find('.'), path.size());
    node = node->table() ? node->find(path.substr(0, dot)) : nullptr;
    path.remove_prefix(std::min(dot + 1, path.size()));
  }
  return node;
}

/// Will the job have readings of the bed, with what was typed?
bool reads_the_bed(const JobNode& job, std::span<const TypedKey> typed) {
  for (const TypedKey& one : typed)
    if (one.path == "bed.readings")
      return one.typed.find_first_not_of(" \t\r\n") != one.typed.npos;
  return find(job, "bed.readings") != nullptr;
}

/// Without the name of the file and the number of the line: the field says where it is.
std::string without_place(std::string what, std::string_view file) {
  if (what.starts_with(file))
    what.erase(0, std::min(what.find(": ", file.size()) + 2, what.size()));
  return what;
}

} // namespace

JobForm form_of_job(std::string_view text, std::string_view file) {
  const JobNode root = parse_toml(text, file);
  JobForm form;
  form.unit = unit_of_job(root, file);
  for (FormField& field : all_fields()) {
    if (const JobNode* node = find(root, field.path))
      field.stated = shown_value(*node);
    form.more.push_back(std::move(field));
  }
  for (const auto& [path, question] : kFirst) {
    const auto found = std::ranges::find(form.more, path, &FormField::path);
    found->question = question;
    form.first.push_back(std::move(*found));
    form.more.erase(found);
  }
  return form;
}

TypedKeys typed_keys(std::string_view text, std::string_view file,
                     std::span<const TypedKey> typed) {
  const JobNode job = parse_toml(text, file);
  const LengthUnit unit = unit_of_job(job, file);
  const std::vector<FormField> fields = all_fields();
  TypedKeys out;
  for (const TypedKey& one : typed) {
    const auto field = std::ranges::find(fields, one.path, &FormField::path);
    if (field == fields.end()) {
      out.wrong.push_back({one.path, "no key of a job that a form can change"});
      continue;
    }
    try {
      TypedValue value = typed_value(*field->key, one.typed, unit);
      if (value.value) {
        const JobNode node = parse_toml("value = " + *value.value, file);
        check_value(*node.find("value"), *field->key, {file, unit, one.path});
      } else if (field->key->required && in_every_job(*field->key)) {
        throw InputError("this must be stated");
      } else if (one.path == "bed.flatness" && !reads_the_bed(job, typed)) {
        throw InputError("not known would count as 0, and the answer would be too good: sweep the "
                         "bed with a dial, or state the worst it may be");
      } else if (field->key->fallback == 0.0) {
        out.understood.push_back({one.path, "Left out it counts as 0: where that is not true walls "
                                            "come out too good. State the worst it may be."});
      }
      const KeyEdit edit{one.path, std::move(value.value)};
      edited_job(text, file, std::span(&edit, 1));
      out.edits.push_back(edit);
      for (std::string& fact : value.understood)
        out.understood.push_back({one.path, std::move(fact)});
    } catch (const InputError& error) {
      out.wrong.push_back({one.path, without_place(error.what(), file)});
    }
  }
  return out;
}

} // namespace leastwall
