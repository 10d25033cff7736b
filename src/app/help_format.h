// `--help` in lines of at most 80 columns.
#pragma once

#include <CLI/CLI.hpp>

namespace leastwall {

/// Names on the left, what they mean on the right, in lines that are broken where a terminal of 80
/// columns ends. To be set before commands are added: they take it over.
class HelpFormat : public CLI::Formatter {
 public:
  std::string make_option(const CLI::Option* option, bool is_positional) const override;
  std::string make_subcommand(const CLI::App* command) const override;
  std::string make_description(const CLI::App* app) const override;
  std::string make_footer(const CLI::App* app) const override;
};

} // namespace leastwall
