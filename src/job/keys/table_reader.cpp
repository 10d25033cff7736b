#include "job/keys/table_reader.h"

#include "base/errors.h"
#include "base/file/text_file.h"
#include "job/keys/key_value.h"

#include <system_error>

namespace leastwall {

namespace {

/// A \ , or what one in double quotes turns into with the letter after it (as \b in "a\bowl.stl").
bool has_backslash(std::string_view path) {
  return path.find_first_of("\\\b\t\n\f\r\x1b") != path.npos;
}

} // namespace

TableReader::TableReader(const JobNode* table, std::string_view schema, std::string path, int line,
                         JobSource& source, bool inherits)
    : table_(table), schema_(schema), path_(std::move(path)), line_(line), source_(source),
      inherits_(inherits) {}

const JobNode* TableReader::node(std::string_view name) const {
  return table_ ? table_->find(name) : nullptr;
}

int TableReader::line(std::string_view name) const {
  const JobNode* found = node(name);
  return found ? found->line : line_;
}

std::string TableReader::path_of(std::string_view name) const {
  return path_.empty() ? std::string(name) : fmt::format("{}.{}", path_, name);
}

const KnownKey& TableReader::key(std::string_view name) const {
  const KnownKey* found = find_key(schema_, name);
  if (!found)
    throw std::logic_error(fmt::format("known_keys() has no {}", path_of(name)));
  return *found;
}

const JobNode* TableReader::stated(const KnownKey& key) const {
  const JobNode* found = node(key.name);
  if (!found && key.required && !inherits_)
    missing(key);
  if (!found && !inherits_)
    assume(key);
  return found;
}

void TableReader::missing(const KnownKey& key) const {
  const std::string path = path_of(key.name);
  std::string todo;
  if (key.type == KeyType::table)
    todo = fmt::format("add a table [{}]", path);
  else if (key.type == KeyType::tables)
    todo = fmt::format("add tables [[{}]]", path);
  else
    todo = fmt::format("state {}, e.g. {} = {}", wanted(key), key.name, key.example);
  throw job_error(source_.file, line_, fmt::format("{} is missing; {}", path, todo));
}

void TableReader::assume(const KnownKey& key) const {
  Assumption taken{"", path_of(key.name)};
  if (key.fallback)
    taken.value = number_words(*key.fallback, key, source_.unit);
  else if (!key.fallback_choice.empty())
    taken.value = fmt::format("\"{}\"", key.fallback_choice);
  if (!taken.value.empty())
    taken.text = taken.value + " is used";
  if (!key.if_absent.empty()) {
    taken.text += fmt::format("{}{}", taken.text.empty() ? "" : ": ", key.if_absent);
    taken.value.clear(); // there is more to say
  }
  if (!taken.text.empty())
    source_.assumptions.push_back(std::move(taken));
}

std::optional<double> TableReader::number(std::string_view name) const {
  const KnownKey& known = key(name);
  const JobNode* found = stated(known);
  if (!found)
    return inherits_ ? std::nullopt : known.fallback;
  const KeyPlace place{source_.file, source_.unit, path_of(name)};
  if (known.type == KeyType::whole)
    return static_cast<double>(whole_value(*found, known, place));
  return number_value(*found, known, place);
}

std::optional<Uncertain> TableReader::uncertain(std::string_view name) const {
  const KnownKey& known = key(name);
  const JobNode* found = stated(known);
  if (found)
    return uncertain_value(*found, known, {source_.file, source_.unit, path_of(name)});
  if (inherits_ || !known.fallback)
    return std::nullopt;
  return Uncertain{*known.fallback, Knowledge::limits};
}

std::optional<std::string> TableReader::text(std::string_view name) const {
  const KnownKey& known = key(name);
  const JobNode* found = stated(known);
  if (!found)
    return std::nullopt;
  return text_value(*found, known, {source_.file, source_.unit, path_of(name)});
}

std::optional<std::string_view> TableReader::word(std::string_view name) const {
  const KnownKey& known = key(name);
  const JobNode* found = stated(known);
  if (found)
    return choice_value(*found, known, {source_.file, source_.unit, path_of(name)});
  if (inherits_ || known.fallback_choice.empty())
    return std::nullopt;
  return known.fallback_choice;
}

void TableReader::no_such_word(std::string_view name, std::string_view word) const {
  throw RunError(fmt::format("{} = \"{}\" is in the table of keys, but nothing reads it; please "
                             "report it as a fault of leastwall",
                             path_of(name), word));
}

std::optional<std::vector<double>> TableReader::lengths(std::string_view name) const {
  const KnownKey& known = key(name);
  const JobNode* found = stated(known);
  if (!found)
    return std::nullopt;
  return lengths_value(*found, known, {source_.file, source_.unit, path_of(name)});
}

std::optional<Point2> TableReader::point2(std::string_view name) const {
  const auto v = lengths(name);
  return v ? std::optional(Point2{v->at(0), v->at(1)}) : std::nullopt;
}

std::optional<Vec3> TableReader::point3(std::string_view name) const {
  const auto v = lengths(name);
  return v ? std::optional(Vec3{v->at(0), v->at(1), v->at(2)}) : std::nullopt;
}

std::optional<std::filesystem::path> TableReader::named_file(std::string_view name) const {
  const auto stated_name = text(name);
  if (!stated_name)
    return std::nullopt;
  if (stated_name->find('\0') != std::string::npos)
    fail(name, fmt::format("{} holds a null character; write a file name", path_of(name)));
  return source_.folder / std::filesystem::path(*stated_name);
}

std::optional<std::filesystem::path> TableReader::file_if_any(std::string_view name) const {
  if (!has(name))
    return std::nullopt;
  const std::optional<std::filesystem::path> path = named_file(name);
  std::error_code ignored;
  if (path && std::filesystem::exists(*path, ignored))
    source_.files.push_back(*path);
  return path;
}

std::optional<std::filesystem::path> TableReader::file(std::string_view name) const {
  const std::optional<std::filesystem::path> found = named_file(name);
  if (!found)
    return std::nullopt;
  const std::filesystem::path& path = *found;
  const std::optional<std::string> stated_name = text(name);
  source_.files.push_back(path);
  if (!source_.files_must_exist)
    return path;
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status))
    fail(name,
         fmt::format("{} = \"{}\": there is no such file; {}", path_of(name),
                     shown(*stated_name, 200),
                     has_backslash(*stated_name) ? "write / instead of \\ in paths"
                                                 : "paths start at the folder of the job file"));
  if (!std::filesystem::is_regular_file(status)) {
    const std::string_view kind = odd_kind(status.type());
    fail(name, fmt::format("{} = \"{}\" is {}; name a file", path_of(name),
                           shown(*stated_name, 200), kind.empty() ? "not a file" : kind));
  }
  return path;
}

TableReader TableReader::table(std::string_view name, bool inherits) const {
  const KnownKey& known = key(name);
  const JobNode* found = stated(known);
  return {found,   known.schema,         path_of(name), found ? found->line : line_,
          source_, inherits || inherits_};
}

std::vector<TableReader> TableReader::tables(std::string_view name) const {
  const KnownKey& known = key(name);
  std::vector<TableReader> out;
  if (const JobNode* found = stated(known))
    for (const JobNode& item : *found->array())
      out.emplace_back(&item, known.schema, path_of(name), item.line, source_, inherits_);
  return out;
}

void TableReader::fail(std::string_view name, std::string_view text) const {
  throw job_error(source_.file, line(name), text);
}

void TableReader::not_both(std::string_view first, std::string_view second,
                           std::string_view why) const {
  if (!has(first) || !has(second))
    return;
  const std::string_view later = line(first) > line(second) ? first : second;
  fail(later, fmt::format("{} and {} are both stated; {}", path_of(first), path_of(second), why));
}

void TableReader::needs(std::string_view name, std::string_view needed) const {
  if (has(name) && !has(needed))
    fail(name, fmt::format("{} means nothing without {}; state both or neither", path_of(name),
                           path_of(needed)));
}

} // namespace leastwall
