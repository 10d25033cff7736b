// A PDF looked at from outside, with the tools of poppler-utils.
#pragma once

#include <array>
#include <cstdio>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <unistd.h>
#include <vector>

namespace leastwall::sample {

struct Word {
  int page = 0;
  double left = 0, top = 0, right = 0, bottom = 0; ///< points from the upper left corner
  std::string text;
};

/// Grey picture of a page, 0 black to 255 white.
struct GreyPage {
  int width = 0, height = 0;
  std::vector<unsigned char> pixels;
  bool dark(int x, int y) const {
    return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)] < 128;
  }
};

class PdfFile {
 public:
  explicit PdfFile(const std::string& bytes)
      : path_((std::filesystem::temp_directory_path() /
               ("leastwall-sheet-" + std::to_string(getpid()) + "-" + std::to_string(next()) +
                ".pdf"))
                  .string()) {
    std::ofstream(path_, std::ios::binary) << bytes;
  }
  ~PdfFile() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  PdfFile(const PdfFile&) = delete;
  PdfFile& operator=(const PdfFile&) = delete;

  std::string info() const { return output("pdfinfo '" + path_ + "'"); }
  int pages() const { return std::stoi(info().substr(info().find("Pages:") + 6)); }
  std::string text(int page) const {
    return output("pdftotext -layout -f " + std::to_string(page) + " -l " + std::to_string(page) +
                  " '" + path_ + "' -");
  }

  /// The words of a page with one blank between them, column by column.
  std::string flat(int page) const {
    std::string out;
    for (const Word& w : words())
      if (w.page == page)
        out += w.text + " ";
    return out;
  }

  std::vector<Word> words() const {
    std::istringstream in(output("pdftotext -bbox '" + path_ + "' -"));
    std::vector<Word> out;
    int page = 0;
    for (std::string line; std::getline(in, line);) {
      page += line.find("<page ") != std::string::npos ? 1 : 0;
      Word w;
      std::array<char, 512> text{};
      const std::size_t at = line.find("<word ");
      if (at == std::string::npos ||
          std::sscanf(line.c_str() + at,
                      "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">%511[^<]", &w.left,
                      &w.top, &w.right, &w.bottom, text.data()) != 5)
        continue;
      w.page = page;
      w.text = text.data();
      out.push_back(w);
    }
    return out;
  }

  /// At 254 dots an inch: ten pixels a millimetre.
  GreyPage picture(int page) const {
    std::istringstream in(output("pdftoppm -gray -r 254 -f " + std::to_string(page) + " -l " +
                                 std::to_string(page) + " '" + path_ + "'"));
    GreyPage out;
    std::string kind;
    int most = 0;
    in >> kind >> out.width >> out.height >> most;
    REQUIRE(kind == "P5");
    in.get();
    out.pixels.resize(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    in.read(reinterpret_cast<char*>(out.pixels.data()),
            static_cast<std::streamsize>(out.pixels.size()));
    REQUIRE(in.gcount() == static_cast<std::streamsize>(out.pixels.size()));
    return out;
  }

 private:
  static int next() {
    static int number = 0;
    return ++number;
  }
  static std::string output(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string out;
    std::array<char, 65536> part{};
    for (std::size_t n = 0; (n = std::fread(part.data(), 1, part.size(), pipe)) > 0;)
      out.append(part.data(), n);
    REQUIRE(pclose(pipe) == 0);
    return out;
  }

  std::string path_;
};

/// Words that stick out of the page's margin, or lie over each other.
inline std::string faults(const PdfFile& pdf, double page_width_pt, double page_height_pt) {
  std::string out;
  const auto words = pdf.words();
  REQUIRE(words.size() > 30);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto& a = words[i];
    const bool lying = a.page > 2 && a.right > page_width_pt;
    const double w = lying ? page_height_pt : page_width_pt;
    const double h = lying ? page_width_pt : page_height_pt;
    if (a.left < 14 || a.top < 14 || a.right > w - 14 || a.bottom > h - 14)
      out += "page " + std::to_string(a.page) + ", outside: " + a.text + "\n";
    for (std::size_t j = i + 1; j < words.size(); ++j) {
      const auto& b = words[j];
      const double x = std::min(a.right, b.right) - std::max(a.left, b.left);
      const double y = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
      // Boxes reach from the font's ascent to its descent, so touching lines share a little.
      if (a.page == b.page && x > 0.6 && y > 2.5)
        out += "page " + std::to_string(a.page) + ", over each other: " + a.text + " / " + b.text +
               "\n";
    }
  }
  return out;
}

} // namespace leastwall::sample
