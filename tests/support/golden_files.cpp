#include "support/golden_files.h"

#include "report/draw/png_read_back.h"
#include "support/run_program.h"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <optional>
#include <sstream>

namespace leastwall::test {
namespace {

namespace fs = std::filesystem;

bool refreshing() {
  const char* set = std::getenv("LEASTWALL_REFRESH_GOLDENS");
  return set != nullptr && std::string(set) == "1";
}

fs::path golden(const std::string& name) {
  return fs::path(LEASTWALL_SOURCE_DIR) / "tests" / "golden" / name;
}

struct Number {
  double value = 0;
  int decimals = 0;
};

/// The number at `at`, which then stands behind it.
std::optional<Number> number_at(const std::string& text, std::size_t& at) {
  Number n;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data() + at, end, n.value);
  if (error != std::errc{})
    return std::nullopt;
  const std::string digits(text.data() + at, stop);
  const std::size_t point = digits.find('.');
  if (point != digits.npos)
    n.decimals = static_cast<int>(digits.size() - point - 1);
  at = static_cast<std::size_t>(stop - text.data());
  return n;
}

bool near(const Number& a, const Number& b) {
  if (a.decimals == 0 && b.decimals == 0)
    return a.value == b.value;
  const int decimals = std::min(6, std::max(a.decimals, b.decimals));
  return std::abs(a.value - b.value) <= 1.01 * std::pow(10.0, -decimals);
}

bool starts_number(const std::string& line, std::size_t at) {
  const auto digit = [&](std::size_t i) {
    return i < line.size() && std::isdigit(static_cast<unsigned char>(line[i])) != 0;
  };
  if (at > 0 && std::isalnum(static_cast<unsigned char>(line[at - 1])) != 0)
    return false;
  return digit(at) || (line[at] == '-' && digit(at + 1));
}

bool same_line(const std::string& a, const std::string& b) {
  if (a == b)
    return true;
  std::size_t i = 0, j = 0;
  const auto skip = [](const std::string& text, std::size_t& at) {
    const std::size_t from = at;
    while (at < text.size() && text[at] == ' ')
      ++at;
    return at > from;
  };
  skip(a, i), skip(b, j);
  while (i < a.size() && j < b.size()) {
    if (starts_number(a, i) && starts_number(b, j)) {
      const auto p = number_at(a, i), q = number_at(b, j);
      if (!p || !q || !near(*p, *q))
        return false;
    } else if (a[i++] != b[j++]) {
      return false;
    }
    if (skip(a, i) != skip(b, j) && i < a.size() && j < b.size())
      return false;
  }
  return i == a.size() && j == b.size();
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);)
    out.push_back(line);
  return out;
}

constexpr int kAcross = 100;

/// Red, green and blue of each coarse pixel.
struct Coarse {
  int height = 0;
  std::vector<double> values;
};

Coarse coarse(const std::string& png) {
  const sample::ReadBack picture(png);
  const double step = static_cast<double>(picture.width) / kAcross;
  Coarse out;
  out.height = static_cast<int>(picture.height / step);
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < kAcross; ++x) {
      double sum[3] = {0, 0, 0}, count = 0;
      for (int v = static_cast<int>(y * step); v < static_cast<int>((y + 1) * step); ++v)
        for (int u = static_cast<int>(x * step); u < static_cast<int>((x + 1) * step); ++u) {
          const Rgb c = picture.at(u, v);
          sum[0] += c.r, sum[1] += c.g, sum[2] += c.b;
          count += 1;
        }
      for (const double s : sum)
        out.values.push_back(count > 0 ? s / count : 0);
    }
  return out;
}

void write_picture(const fs::path& file, const Coarse& picture) {
  cairo_surface_t* surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, kAcross, picture.height);
  cairo_surface_flush(surface);
  unsigned char* data = cairo_image_surface_get_data(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < kAcross; ++x) {
      const double* c = picture.values.data() + 3 * (y * kAcross + x);
      const auto part = [&](int i) { return static_cast<std::uint32_t>(std::lround(c[i])); };
      const std::uint32_t word = part(0) << 16 | part(1) << 8 | part(2);
      std::memcpy(data + y * stride + 4 * x, &word, 4);
    }
  cairo_surface_mark_dirty(surface);
  REQUIRE(cairo_surface_write_to_png(surface, file.c_str()) == CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy(surface);
}

} // namespace

std::vector<std::string> differences(const std::string& a, const std::string& b) {
  const std::vector<std::string> was = lines_of(a), is = lines_of(b);
  std::vector<std::string> out;
  for (std::size_t i = 0; i < std::max(was.size(), is.size()) && out.size() < 12; ++i) {
    if (i < was.size() && i < is.size() && same_line(was[i], is[i]))
      continue;
    if (i < was.size())
      out.push_back(fmt::format("line {}, was: {}", i + 1, was[i]));
    if (i < is.size())
      out.push_back(fmt::format("line {}, is:  {}", i + 1, is[i]));
  }
  return out;
}

void check_golden(const std::string& name, const std::string& text) {
  const fs::path file = golden(name);
  if (refreshing()) {
    std::ofstream(file, std::ios::binary) << text;
    MESSAGE("written anew: ", file.string());
    return;
  }
  REQUIRE_MESSAGE(fs::exists(file), file.string(), " is missing");
  std::string all;
  for (const std::string& line : differences(file_text(file), text))
    all += line + "\n";
  CHECK_MESSAGE(all.empty(), name, " differs:\n", all,
                "If that is meant: scripts/refresh_goldens.sh, then look at every change.");
}

void check_golden_picture(const std::string& name, const std::string& png) {
  const fs::path file = golden(name);
  const Coarse is = coarse(png);
  if (refreshing()) {
    write_picture(file, is);
    MESSAGE("written anew: ", file.string());
    return;
  }
  REQUIRE_MESSAGE(fs::exists(file), file.string(), " is missing");
  const sample::ReadBack was(file_text(file));
  REQUIRE(was.width == kAcross);
  REQUIRE_MESSAGE(was.height == is.height, name, " has another height");
  double sum = 0, most = 0;
  int at_x = 0, at_y = 0;
  for (int y = 0; y < is.height; ++y)
    for (int x = 0; x < kAcross; ++x) {
      const Rgb c = was.at(x, y);
      const double* d = is.values.data() + 3 * (y * kAcross + x);
      const double apart =
          std::max({std::abs(c.r - d[0]), std::abs(c.g - d[1]), std::abs(c.b - d[2])});
      sum += apart;
      if (apart > most)
        most = apart, at_x = x, at_y = y;
    }
  const double mean = sum / (kAcross * is.height);
  CHECK_MESSAGE((mean <= 1.5 && most <= 48), name, " differs: on average by ", mean,
                " of 255, most by ", most, " at ", at_x, " %, ", at_y,
                " of its width down. If that is meant: scripts/refresh_goldens.sh, then look.");
}

} // namespace leastwall::test
