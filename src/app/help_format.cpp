#include "app/help_format.h"

#include "base/text/wrap_text.h"

namespace leastwall {
namespace {

constexpr int kColumns = 80;
constexpr std::size_t kNameColumns = 30;

/// A name too long for its column has a line of its own.
std::string entry(const std::string& name, const std::string& meaning) {
  std::string first = "  " + name, out;
  if (first.size() + 1 > kNameColumns) {
    out = first + "\n";
    first.clear();
  }
  first.resize(kNameColumns, ' ');
  return out + (meaning.empty() ? first + "\n" : wrap_text(meaning, kColumns, first));
}

} // namespace

std::string HelpFormat::make_option(const CLI::Option* option, bool is_positional) const {
  return entry(make_option_name(option, is_positional) + make_option_opts(option),
               make_option_desc(option));
}

std::string HelpFormat::make_subcommand(const CLI::App* command) const {
  return entry(command->get_name(), command->get_description());
}

std::string HelpFormat::make_description(const CLI::App* app) const {
  return wrap_text(CLI::Formatter::make_description(app), kColumns);
}

std::string HelpFormat::make_footer(const CLI::App* app) const {
  const std::string footer = app->get_footer();
  return footer.empty() ? footer : wrap_text(footer, kColumns);
}

} // namespace leastwall
