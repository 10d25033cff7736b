#include "base/text/plain_line.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("text that is fit for a message stays as it is") {
  CHECK(plain_line("") == "");
  CHECK(plain_line("K\u00fcrbis \u7bb1 \U0001F383 \"0,8\" mm") ==
        "K\u00fcrbis \u7bb1 \U0001F383 \"0,8\" mm");
}

TEST_CASE("what breaks a line or steers a terminal becomes a question mark") {
  // ISO/IEC 6429: C0 and C1 control characters; The Unicode Standard, 5.8: U+2028 and U+2029 end
  // lines.
  CHECK(plain_line("a\nb\rc\td\x1b[31m") == "a?b?c?d?[31m");
  CHECK(plain_line(std::string_view("a\0b\x7f", 4)) == "a?b?");
  CHECK(plain_line("a\xC2\x9b"
                   "31m\xC2\x85") == "a?31m?");
  CHECK(plain_line("\xC2\xA0") == "\xC2\xA0"); // the first after them, the fixed space
  CHECK(plain_line("a\u2028b\u2029") == "a?b?");
}

TEST_CASE("bytes that are not UTF-8 become one question mark each") {
  // The Unicode Standard, table 3-7: well-formed UTF-8 byte sequences, at the edges of each row.
  CHECK(plain_line("a\xFF") == "a?");
  CHECK(plain_line("\xE4 \xC3") == "? ?");         // Latin-1, a cut character
  CHECK(plain_line("\xC1\xBF") == "??");           // too long a form
  CHECK(plain_line("\xE0\x9F\xBF") == "???");      // too long a form
  CHECK(plain_line("\xED\xA0\x80") == "???");      // half of a pair
  CHECK(plain_line("\xF0\x8F\xBF\xBF") == "????"); // too long a form
  CHECK(plain_line("\xF4\x90\x80\x80") == "????"); // beyond U+10FFFF
  CHECK(plain_line("\xF4\x8F\xBF\xBF") == "\xF4\x8F\xBF\xBF");
  CHECK(plain_line("\xE2\x82") == "??");
}

TEST_CASE("what is too long is cut between characters") {
  CHECK(plain_line("abcd", 4) == "abcd");
  CHECK(plain_line("abcde", 4) == "abcd...");
  CHECK(plain_line("abc\u00e9", 4) == "abc...");
  CHECK(plain_line("ab\u00e9", 4) == "ab\u00e9");
}
