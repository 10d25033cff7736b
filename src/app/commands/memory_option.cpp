#include "app/commands/memory_option.h"

#include <charconv>
#include <string_view>

namespace leastwall {
namespace {

/// Bytes; absent when `text` is no amount of memory over 0. M and G alone are MB and GB.
std::optional<std::uint64_t> bytes_of(const std::string& text) {
  double number = 0;
  const char* end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc{} || !(number > 0))
    return std::nullopt;
  std::string_view unit(rest, static_cast<std::size_t>(end - rest));
  while (!unit.empty() && unit.front() == ' ')
    unit.remove_prefix(1);
  double factor = 0;
  if (unit == "M" || unit == "MB")
    factor = 1e6;
  else if (unit == "G" || unit == "GB")
    factor = 1e9;
  else if (unit == "MiB")
    factor = 1024.0 * 1024;
  else if (unit == "GiB")
    factor = 1024.0 * 1024 * 1024;
  const double bytes = number * factor;
  if (!(bytes >= 1 && bytes < 1e18))
    return std::nullopt;
  return static_cast<std::uint64_t>(bytes);
}

} // namespace

CLI::Option* add_memory(CLI::App* command, const std::string& name,
                        std::optional<std::uint64_t>& to_bytes, const std::string& help) {
  return command
      ->add_option_function<std::string>(
          name,
          [&to_bytes, name](const std::string& text) {
            to_bytes = bytes_of(text);
            if (!to_bytes)
              throw CLI::ValidationError(name, "\"" + text +
                                                   "\" is no amount of memory; write 500MB or 4GB");
          },
          help)
      ->type_name("SIZE");
}

} // namespace leastwall
