// app/os/standard_streams.h where nothing is printed: the caller is given the text.
#include "browser/instead/standard_streams.h"

#include "app/os/standard_streams.h"

#include <utility>

namespace leastwall {
namespace {

std::string printed;

} // namespace

void print_err(std::string_view text) noexcept {
  try {
    printed.append(text);
  } catch (...) {
    printed.clear(); // no memory: the status tells
  }
}

std::string take_printed() {
  std::string text = std::exchange(printed, {});
  while (!text.empty() && text.back() == '\n')
    text.pop_back();
  return text;
}

} // namespace leastwall
