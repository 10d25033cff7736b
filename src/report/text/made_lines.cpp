#include "report/text/made_lines.h"

#include "base/text/wrap_text.h"
#include "report/words/length_text.h"

namespace leastwall {

void MadeLines::add(std::string_view text, std::string_view first) {
  constexpr int kWidth = 80;
  out_ += wrap_text(printable(LengthText{inch_}.sentence(text)), kWidth, first);
}

} // namespace leastwall
