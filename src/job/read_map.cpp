#include "bed/readings/read_readings.h"
#include "bed/readings/readings_cover.h"
#include "job/keys/key_value.h"
#include "job/read_tables.h"

namespace leastwall {

std::shared_ptr<const BedMap> read_map(const TableReader& table, std::string_view name) {
  JobSource& source = table.source();
  const JobNode& node = *table.node(name);
  const std::string path = table.path_of(name);
  if (!node.text()) {
    const KnownKey& key = *find_key(table.schema(), name);
    const auto rows = rows_value(node, key, {source.file, source.unit, path});
    auto map = std::make_shared<const BedMap>(BedMap::from_readings(rows));
    if (source.unit == LengthUnit::mm)
      if (const auto doubt = doubt_small_area(*map, "write units = \"inch\" in the job"))
        source.notices.push_back({doubt->code, fmt::format("{}: {}", path, doubt->text)});
    return map;
  }
  const bool of_board = table.schema() == "board";
  ReadingsOptions options;
  if (of_board)
    options.kind = ReadingsKind::thickness;
  ReadingsFile found = read_readings(*table.file(name), options);
  if (!of_board && found.kind == ReadingsKind::thickness)
    table.fail(name, fmt::format("{}: the file says that it measures thickness; name it as "
                                 "board.readings",
                                 path));
  for (const std::string& fact : found.understood)
    source.assumptions.push_back({fmt::format("{} \"{}\": {}", path, shown(*node.text()), fact)});
  source.notices.insert(source.notices.end(), found.notices.begin(), found.notices.end());
  return std::make_shared<const BedMap>(std::move(found.map));
}

} // namespace leastwall
