// Code points of UTF-8; sizes and limits from RFC 3629, section 3 and 4.
#include "base/text/code_point.h"

#include <doctest/doctest.h>
#include <string_view>

using namespace leastwall;

TEST_CASE("the first code point of UTF-8 with its bytes") {
  struct Row {
    std::string_view text;
    std::size_t size;
    std::uint32_t value;
  };
  // RFC 3629, section 7: U+2262, U+D55C, U+233B4; the least and largest of each size.
  for (const Row& row : {Row{"A", 1, 0x41},
                         {"\x7f", 1, 0x7f},
                         {"\xc2\x80", 2, 0x80},
                         {"\xdf\xbf", 2, 0x7ff},
                         {"\xe0\xa0\x80", 3, 0x800},
                         {"\xe2\x89\xa2", 3, 0x2262},
                         {"\xed\x95\x9c", 3, 0xd55c},
                         {"\xef\xbf\xbf", 3, 0xffff},
                         {"\xf0\x90\x80\x80", 4, 0x10000},
                         {"\xf0\xa3\x8e\xb4", 4, 0x233b4},
                         {"\xf4\x8f\xbf\xbf", 4, 0x10ffff}}) {
    CAPTURE(row.value);
    const CodePoint point = first_code_point(row.text);
    CHECK(point.bytes == row.text.substr(0, row.size));
    CHECK(point.value == row.value);
  }
}

TEST_CASE("what is no UTF-8 is a byte alone") {
  for (const std::string_view text : {"\x80", "\xc3", "\xe2\x82", "\xff", "\xc0\x8a" /* overlong */,
                                      "\xe0\x9f\xbf" /* overlong */, "\xed\xa0\x80" /* surrogate */,
                                      "\xf4\x90\x80\x80" /* beyond */, "\xf5\x80\x80\x80"}) {
    const CodePoint point = first_code_point(text);
    CHECK(point.bytes.size() == 1);
    CHECK_FALSE(point.value);
  }
}
