#include "browser/form_json.h"

#include <algorithm>
#include <cctype>
#include <fmt/format.h>
#include <iterator>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::pair<std::string_view, const char*> kTables[] = {
    {"", "The job"},
    {"board", "Board"},
    {"side_a", "Side A, the pocket"},
    {"side_a.bit", "Side A: finishing bit"},
    {"side_a.roughing", "Side A: roughing bit"},
    {"side_b", "Side B, the skin"},
    {"side_b.bit", "Side B: finishing bit"},
    {"side_b.roughing", "Side B: roughing bit"},
    {"bed", "Bed"},
    {"bed.resurface", "Bed: resurfacing"},
    {"flip", "Turning the board over"},
    {"flip.dowels", "Dowels of the flip"},
};

std::string table_of(const std::string& path) {
  const std::size_t dot = path.rfind('.');
  return dot == path.npos ? std::string() : path.substr(0, dot);
}

/// A table without words of its own is called as it stands in the file.
std::string title_of(const std::string& table) {
  for (const auto& [name, title] : kTables)
    if (name == table)
      return title;
  return table;
}

/// "plate_error" as "Plate error".
std::string label_of(const FormField& field) {
  if (!field.question.empty())
    return std::string(field.question);
  std::string label(field.key->name);
  std::replace(label.begin(), label.end(), '_', ' ');
  label[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(label[0])));
  return label;
}

std::string absent_text(const KnownKey& key) {
  if (!key.fallback_choice.empty())
    return fmt::format("left out: {}", key.fallback_choice);
  if (key.fallback)
    return fmt::format("left out: {}", *key.fallback);
  return key.if_absent.empty() ? std::string() : fmt::format("left out: {}", key.if_absent);
}

Json field_json(const FormField& field) {
  const KnownKey& key = *field.key;
  Json out{{"path", field.path},
           {"label", label_of(field)},
           {"kind", key.type == KeyType::choice     ? "choice"
                    : key.type == KeyType::readings ? "readings"
                                                    : "text"},
           {"help", std::string(key.help)},
           {"example", std::string(key.example)}};
  if (!key.unit.empty())
    out["unit"] = std::string(key.unit);
  if (key.type == KeyType::choice)
    out["choices"] = key.choices;
  if (field.stated)
    out["value"] = *field.stated;
  if (const std::string absent = absent_text(key); !absent.empty())
    out["absent"] = absent;
  return out;
}

Json notes_json(const std::vector<FieldNote>& notes) {
  Json out = Json::object();
  for (const FieldNote& note : notes) {
    Json& text = out[note.path];
    text = text.is_null() ? note.text : text.get<std::string>() + " " + note.text;
  }
  return out;
}

} // namespace

std::string form_json(const JobForm& form, const TypedKeys& typed) {
  Json first = Json::array(), more = Json::array();
  for (const FormField& field : form.first)
    first.push_back(field_json(field));
  std::vector<std::string> tables; // in the order of the form
  for (const FormField& field : form.more)
    if (const std::string table = table_of(field.path);
        std::find(tables.begin(), tables.end(), table) == tables.end())
      tables.push_back(table);
  for (const std::string& table : tables) {
    Json fields = Json::array();
    for (const FormField& field : form.more)
      if (table_of(field.path) == table)
        fields.push_back(field_json(field));
    more.push_back({{"title", title_of(table)}, {"fields", std::move(fields)}});
  }
  const Json out{{"unit", form.unit == LengthUnit::inch ? "inch" : "mm"},
                 {"first", std::move(first)},
                 {"more", std::move(more)},
                 {"wrong", notes_json(typed.wrong)},
                 {"understood", notes_json(typed.understood)}};
  return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

} // namespace leastwall
