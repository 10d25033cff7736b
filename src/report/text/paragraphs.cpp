#include "report/text/paragraphs.h"

#include "base/text/wrap_text.h"

namespace leastwall {

void Paragraphs::para(std::string_view text, std::string_view first) {
  out_ += wrap_text(printable(words_.sentence(text)), width_, first);
}

void Paragraphs::heading(std::string_view text) {
  if (!out_.empty())
    out_ += "\n";
  para(text);
}

void Paragraphs::list(std::string_view title, const std::vector<std::string>& items) {
  if (items.empty())
    return;
  heading(title);
  for (const std::string& item : items)
    para(item, "  - ");
}

} // namespace leastwall
