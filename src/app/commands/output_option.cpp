#include "app/commands/output_option.h"
#include "base/text/lower_case.h"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <iterator>
#include <string_view>

namespace leastwall {
namespace {

struct Format {
  const char *words, *ending, *other = nullptr;
};

Format format_of(OutputKind kind) {
  switch (kind) {
  case OutputKind::png:
    return {"a PNG picture", ".png"};
  case OutputKind::map:
    return {"a picture (PNG or SVG)", ".png", ".svg"};
  case OutputKind::sheet:
    return {"a PDF or a page for browsers", ".pdf", ".html"};
  case OutputKind::json:
    return {"JSON", ".json"};
  case OutputKind::stl:
    return {"a mesh (STL)", ".stl"};
  case OutputKind::vdb:
    return {"fields (VDB)", ".vdb"};
  case OutputKind::html:
    return {"a page (HTML)", ".html"};
  case OutputKind::folder:
    break;
  }
  return {"a folder", ""};
}

/// Endings by which other programs know a format; any other one is the user's business.
constexpr std::string_view kEndings[] = {".png", ".jpg",  ".jpeg", ".gif",  ".bmp",
                                         ".tif", ".tiff", ".webp", ".svg",  ".pdf",
                                         ".ps",  ".eps",  ".json", ".html", ".htm"};

/// And meshes and fields.
constexpr std::string_view kSolidEndings[] = {".stl",  ".obj", ".ply", ".off", ".glb",
                                              ".gltf", ".3mf", ".dae", ".vdb", ".toml"};

std::string ending_of(const std::string& name) {
  return lower_case(std::filesystem::path(name).extension().string());
}

/// Why `name` cannot be written; empty when it can.
std::string fault_of(const std::string& name, OutputKind kind) {
  if (name.find_first_not_of(" \t") == name.npos)
    return kind == OutputKind::folder ? "the name is empty; name a folder"
                                      : "the name is empty; name a file";
  const auto [words, ending, other] = format_of(kind);
  if (name == "-" && kind != OutputKind::json)
    return kind == OutputKind::folder
               ? "\"-\" is no folder; name one, or write ./- if it is called so"
               : fmt::format("only --json can go to stdout; name a file ({})", ending);
  const std::string stated = ending_of(name);
  const bool solid = kind == OutputKind::stl || kind == OutputKind::vdb;
  if (kind != OutputKind::folder && stated != ending && !(other && stated == other) &&
      (std::ranges::find(kEndings, stated) != std::end(kEndings) ||
       (solid && std::ranges::find(kSolidEndings, stated) != std::end(kSolidEndings))))
    return fmt::format("\"{}\" ends in {} and would hold {}; let the name end in {}{}", name,
                       stated, words, ending, other ? fmt::format(" or {}", other) : "");
  return {};
}

} // namespace

CLI::Option* add_output(CLI::App* command, const std::string& name, std::string& to,
                        OutputKind kind, const std::string& help) {
  return command
      ->add_option_function<std::string>(
          name,
          [&to, name, kind](const std::string& text) {
            if (const std::string fault = fault_of(text, kind); !fault.empty())
              throw CLI::ValidationError(name, fault);
            to = text;
          },
          help)
      ->type_name(kind == OutputKind::folder ? "DIR" : "FILE");
}

PictureFile picture_file(const std::string& name) {
  return ending_of(name) == ".svg" ? PictureFile::svg : PictureFile::png;
}

SheetFile sheet_file(const std::string& name) {
  return ending_of(name) == ".html" ? SheetFile::html : SheetFile::pdf;
}

bool prints_json(Outputs& outputs, const std::string& json, bool quiet) {
  if (json == "-")
    outputs.prints("the JSON");
  else if (!quiet)
    outputs.prints("the text");
  return json == "-";
}

} // namespace leastwall
