#include "app/commands/command_docs.h"

#include "app/os/standard_streams.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

std::vector<const CLI::App*> commands(const CLI::App& app) {
  return app.get_subcommands([](const CLI::App*) { return true; });
}

std::vector<const CLI::Option*> options(const CLI::App& app) {
  return app.get_options([](const CLI::Option*) { return true; });
}

/// Text safe in roff: backslashes, and hyphens that must stay hyphens.
std::string roff(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\')
      out += "\\\\";
    else if (c == '-')
      out += "\\-";
    else
      out += c;
  }
  if (!out.empty() && (out[0] == '.' || out[0] == '\''))
    out.insert(0, "\\&");
  return out;
}

/// What stands behind the options in the synopsis: " [FILE]"; a word of a choice, " man|bash".
std::string positionals(const CLI::App& command) {
  std::string out, words;
  for (const CLI::Option* option : options(command))
    if (option->get_positional()) {
      const std::string name = " \\fI" + roff(option->get_type_name()) + "\\fR";
      out += option->get_required() ? name : " [" + name.substr(1) + "]";
    }
  for (const CLI::App* word : commands(command))
    words += (words.empty() ? " " : "|") + word->get_name();
  return out + words;
}

std::string option_entry(const CLI::Option& option) {
  std::string value = option.get_type_size() == 0 ? "" : " \\fI" + option.get_type_name() + "\\fR";
  // CLI11 writes the allowed values of a choice behind the type: UNIT:{mm,inch}.
  if (const auto colon = value.find(':'); colon != std::string::npos)
    value = " \\fI" + value.substr(colon + 1);
  return fmt::format(".TP\n\\fB{}\\fR{}\n{}\n", roff(option.get_name(option.get_positional())),
                     value, roff(option.get_description()));
}

} // namespace

std::string man_page(const CLI::App& app) {
  std::string out = fmt::format(".TH LEASTWALL 1 \"\" \"leastwall {}\"\n.SH NAME\nleastwall \\- "
                                "check the thin walls of a piece carved from both faces\n"
                                ".SH SYNOPSIS\n",
                                LEASTWALL_VERSION);
  for (const CLI::App* command : commands(app))
    out += fmt::format(".B leastwall {}\n[\\fIoptions\\fR]{}\n.br\n", command->get_name(),
                       positionals(*command));
  out += ".SH DESCRIPTION\n" + roff(app.get_description()) + "\n";
  for (const CLI::App* command : commands(app)) {
    std::string title = command->get_name();
    out += fmt::format(".SH \"leastwall {}\"\n{}\n", title, roff(command->get_description()));
    for (const CLI::Option* option : options(*command))
      out += option_entry(*option);
  }
  out += ".SH EXIT STATUS\n.TP\n0\nsafe: every wall holds\n.TP\n1\nany other verdict: at-risk, "
         "thin, cut-through, or unproven (LOOK FIRST: the meshes do not "
         "show the wall)\n.TP\n2\nthe "
         "input "
         "or the call is wrong\n.TP\n3\nit could not finish (memory, disk, cancelled)\n"
         ".SH CAUTION\nThe program gives advice, never a guarantee. Spinning cutters, resin and "
         "wood dust can hurt you: follow the data sheets, the machine's manual and local rules.\n";
  return out;
}

std::string bash_completion(const CLI::App& app) {
  std::string names, cases, values;
  for (const CLI::App* command : commands(app)) {
    names += (names.empty() ? "" : " ") + command->get_name();
    std::string words;
    for (const CLI::Option* option : options(*command)) {
      for (const std::string& name : option->get_lnames())
        words += (words.empty() ? "--" : " --") + name;
      const std::string type = option->get_type_name();
      const auto open = type.find('{'), close = type.find('}');
      if (open == std::string::npos || close == std::string::npos || option->get_lnames().empty())
        continue;
      std::string choice = type.substr(open + 1, close - open - 1);
      for (char& c : choice)
        if (c == ',')
          c = ' ';
      values += fmt::format("    --{})\n      COMPREPLY=($(compgen -W \"{}\" -- \"$word\"))\n"
                            "      return\n      ;;\n",
                            option->get_lnames()[0], choice);
    }
    cases += fmt::format("    {}) words=\"{}\" ;;\n", command->get_name(), words);
  }
  return fmt::format(R"(# bash completion for leastwall
_leastwall() {{
  local word="${{COMP_WORDS[COMP_CWORD]}}" before="${{COMP_WORDS[COMP_CWORD - 1]}}" words=""
  if [[ $COMP_CWORD -eq 1 ]]; then
    COMPREPLY=($(compgen -W "{} --help --version" -- "$word"))
    return
  fi
  case "$before" in
{}  esac
  case "${{COMP_WORDS[1]}}" in
{}  esac
  if [[ "$word" == -* ]]; then
    COMPREPLY=($(compgen -W "$words" -- "$word"))
  else
    COMPREPLY=($(compgen -f -- "$word"))
  fi
}}
complete -o filenames -F _leastwall leastwall
)",
                     names, values, cases);
}

void add_docs_command(CLI::App& app) {
  CLI::App* docs = app.add_subcommand("docs", "Print the manual page or the bash completion.");
  docs->require_subcommand(1);
  docs->add_subcommand("man", "the manual page, for man(1)")->callback([&app] {
    print_out(man_page(app));
    throw CLI::Success();
  });
  docs->add_subcommand("bash", "the completion script for bash")->callback([&app] {
    print_out(bash_completion(app));
    throw CLI::Success();
  });
}

} // namespace leastwall
