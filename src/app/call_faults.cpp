#include "app/call_faults.h"

#include "base/text/wrap_text.h"
#include "job/keys/nearest_key.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <vector>

namespace leastwall {
namespace {

/// "there is no option ..." for the first word that looks like one and was not taken; else nothing.
std::string unknown_option(const CLI::App& command) {
  for (const std::string& word : command.remaining()) {
    if (word.size() < 2 || word[0] != '-' || (word[1] >= '0' && word[1] <= '9'))
      continue;
    const std::string stated = word.substr(0, word.find('='));
    std::vector<std::string> names; // with their dashes, as the user would write them
    for (const CLI::Option* option : command.get_options([](const CLI::Option*) { return true; }))
      for (const std::string& name : option->get_lnames())
        names.push_back(name);
    const std::vector<std::string_view> views(names.begin(), names.end());
    std::string_view bare = stated;
    bare.remove_prefix(std::min(bare.find_first_not_of('-'), bare.size()));
    const std::string_view near = nearest(bare, views);
    return fmt::format("there is no option \"{}\"{}", stated,
                       near.empty() ? "" : fmt::format(" (did you mean \"--{}\"?)", near));
  }
  return {};
}

} // namespace

std::string unknown_command(const CLI::App& app, std::string_view word) {
  if (word.empty() || word.front() == '-')
    return {};
  std::vector<std::string_view> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    names.emplace_back(command->get_name());
  if (std::find(names.begin(), names.end(), word) != names.end())
    return {};
  const std::string_view near = nearest(word, names);
  return fmt::format("leastwall: there is no command \"{}\"{}; the commands are {}; see leastwall "
                     "--help\n",
                     printable(word),
                     near.empty() ? "" : fmt::format(" (did you mean \"{}\"?)", near),
                     fmt::join(names, ", "));
}

std::string call_fault(const CLI::App& app, const CLI::ParseError& error) {
  const std::vector<CLI::App*> parsed = app.get_subcommands();
  const CLI::App& command = parsed.empty() ? app : *parsed.front();
  std::string text = unknown_option(command);
  if (text.empty())
    text = error.what();
  std::replace(text.begin(), text.end(), '\n', ' ');
  return fmt::format("leastwall: {}; see leastwall {}--help\n", printable(text),
                     parsed.empty() ? "" : parsed.front()->get_name() + " ");
}

} // namespace leastwall
