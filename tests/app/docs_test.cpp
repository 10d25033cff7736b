// The manual page and the completion say what `--help` says, and their readers accept them.
#include "app/small_piece.h"

#include <algorithm>
#include <regex>
#include <set>

using namespace leastwall;
using namespace leastwall::test;

namespace {

std::set<std::string> options_in(const std::string& text) {
  static const std::regex option("--[a-z][a-z-]+");
  return {std::sregex_token_iterator(text.begin(), text.end(), option), {}};
}

bool there(const char* program) {
  return run_program({"sh", "-c", std::string("command -v ") + program}).status == 0;
}

} // namespace

TEST_CASE("docs: manual page and completion name every option of check") {
  const RunResult help = leastwall_program({"check", "--help"});
  CHECK(help.status == 0);
  const std::set<std::string> wanted = options_in(help.out);
  for (const char* option :
       {"--pocket", "--skin", "--limit", "--z-zero", "--bed-flatness", "--heatmap", "--json",
        "--units", "--threads", "--quiet", "--inches"}) {
    CAPTURE(option);
    CHECK(wanted.count(option) == 1);
  }
  std::string man = leastwall_program({"docs", "man"}).out;
  // In man(7) source a minus sign is written \-.
  for (std::size_t at = 0; (at = man.find("\\-", at)) != man.npos;)
    man.erase(at, 1);
  const std::string bash = leastwall_program({"docs", "bash"}).out;
  const std::set<std::string> in_man = options_in(man), in_bash = options_in(bash);
  for (const std::string& option : wanted) {
    CAPTURE(option);
    CHECK(in_man.count(option) == 1);
    CHECK(in_bash.count(option) == 1);
  }
  CHECK(has(man, "EXIT STATUS"));
}

TEST_CASE("docs: the synopsis names what stands behind the options") {
  const std::string man = leastwall_program({"docs", "man"}).out;
  CHECK(has(man, ".B leastwall check\n[\\fIoptions\\fR] [\\fIJOB.toml\\fR]\n"));
  CHECK(has(man, ".B leastwall bed\n[\\fIoptions\\fR] [\\fIREADINGS\\fR]\n"));
  CHECK(has(man, ".B leastwall pour\n[\\fIoptions\\fR] \\fIJOB.toml\\fR\n"));
  CHECK(has(man, ".B leastwall start\n[\\fIoptions\\fR] \\fIFOLDER\\fR\n"));
  CHECK(has(man, ".B leastwall page\n[\\fIoptions\\fR] \\fIFILE\\fR\n"));
  CHECK(has(man, ".B leastwall docs\n[\\fIoptions\\fR] man|bash\n"));
}

// A terminal has 80 columns unless its owner made it wider (common practice).
TEST_CASE("docs: no line of any help is wider than 80 columns, and no word is lost") {
  for (const std::vector<std::string>& command :
       {std::vector<std::string>{}, {"check"}, {"bed"}, {"pour"}, {"start"}, {"page"}, {"docs"}}) {
    std::vector<std::string> words = command;
    words.emplace_back("--help");
    const RunResult help = leastwall_program(words);
    CHECK(help.status == 0);
    std::size_t lines = 0;
    for (std::size_t at = 0; at < help.out.size(); ++lines) {
      const std::size_t end = std::min(help.out.find('\n', at), help.out.size());
      CAPTURE(help.out.substr(at, end - at));
      CHECK(end - at <= 80);
      at = end + 1;
    }
    CHECK(lines > 8);
    CHECK(has(help.out, "never a guarantee."));
  }
  CHECK(has(leastwall_program({"bed", "--help"}).out, "--four-edges                the bed is"));
}

TEST_CASE("docs: bash takes the completion, and it completes") {
  const TempDir folder;
  const std::string script =
      folder.file("leastwall.bash", leastwall_program({"docs", "bash"}).out).string();
  CHECK(run_program({"bash", "-n", script}).status == 0);
  const auto complete = [&](const std::string& words, int at) {
    return run_program({"bash", "-c",
                        "source '" + script + "'; COMP_WORDS=(" + words +
                            "); COMP_CWORD=" + std::to_string(at) +
                            "; _leastwall; printf '%s\\n' \"${COMPREPLY[@]}\""})
        .out;
  };
  CHECK(complete("leastwall ch", 1) == "check\n");
  CHECK(complete("leastwall check --hea", 2) == "--heatmap\n");
  CHECK(complete("leastwall check --units i", 3) == "inch\n");
}

TEST_CASE("docs: groff takes the manual page without a warning") {
  if (!there("groff")) {
    MESSAGE("groff is not installed: the manual page is not formatted");
    return;
  }
  const TempDir folder;
  const std::string page =
      folder.file("leastwall.1", leastwall_program({"docs", "man"}).out).string();
  const RunResult r = run_program({"groff", "-man", "-ww", "-Tascii", "-z", page});
  CHECK(r.status == 0);
  CHECK(r.err == "");
}

TEST_CASE("docs: help and version") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"--help"}, {"check", "--help"}, {"start", "--help"}}) {
    const RunResult r = leastwall_program(words);
    CHECK(r.status == 0);
    CHECK(r.err.empty());
    CHECK(r.out.size() > 100);
    CHECK(r.out.find('\x1b') == r.out.npos);
  }
  CHECK(leastwall_program({"--version"}).out.rfind("leastwall ", 0) == 0);
}
