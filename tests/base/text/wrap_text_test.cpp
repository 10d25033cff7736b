#include "base/text/wrap_text.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("columns of UTF-8") {
  CHECK(text_columns("abc") == 3);
  CHECK(text_columns("\xc3\xa4\xc3\xb6") == 2); // two letters with umlaut
  CHECK(text_columns("e\xcc\x81") == 1);        // e, combining acute accent
  CHECK(text_columns("\xe8\x91\x89") == 2);     // U+8449, wide (Unicode UAX 11: W)
  CHECK(text_columns("\xff\xfe") == 2);         // not UTF-8: a byte, a column
  CHECK(text_columns("\xf0\x9f\x8d\x82") == 2); // U+1F342, wide
}

TEST_CASE("names cannot steer the terminal") {
  CHECK(printable("a\033[31mb") == "a?[31mb");
  CHECK(printable("tab\there") == "tab here");
  CHECK(printable("\xc2\x9b"
                  "1m") == "?1m"); // U+009B, the one-character CSI
  CHECK(printable("bad\xff") == "bad?");
  CHECK(printable("overlong \xc0\x8a") == "overlong ??");
  CHECK(printable("\xe2\x80\xae"
                  "evil") == "?evil"); // U+202E turns the writing direction
  CHECK(printable("\xc3\xa4") == "\xc3\xa4");
  // U+FFFE, U+FFFF, U+FDD0, U+1FFFE stand for no character; U+FFFD and U+FDCF do.
  CHECK(printable("\xef\xbf\xbe|\xef\xbf\xbf|\xef\xb7\x90|\xf0\x9f\xbf\xbe") == "?|?|?|?");
  CHECK(printable("\xef\xbf\xbd|\xef\xb7\x8f") == "\xef\xbf\xbd|\xef\xb7\x8f");
}

TEST_CASE("wrapping with a hanging indent") {
  CHECK(wrap_text("one two  three", 9, "- ") == "- one two\n  three\n");
  CHECK(wrap_text("one", 80) == "one\n");
  CHECK(wrap_text("", 80, "- ") == "- \n");
  CHECK(wrap_text("abcdefgh ij", 4) == "abcd\nefgh\nij\n");
  CHECK(wrap_text("\xe8\x91\x89\xe8\x91\x89\xe8\x91\x89", 5) ==
        "\xe8\x91\x89\xe8\x91\x89\n\xe8\x91\x89\n");
}
