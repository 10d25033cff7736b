// Files that hold what a writer once wrote and somebody looked at.
#pragma once

#include <string>
#include <vector>

namespace leastwall::test {

/// Fails with the lines that differ from tests/golden/`name`. Words must be the same; a number may
/// differ by one in its last decimal (at most six decimals count), an integer not at all. Runs of
/// blanks count as one. With LEASTWALL_REFRESH_GOLDENS=1 in the environment the file is written
/// anew instead and the test says so.
void check_golden(const std::string& name, const std::string& text);

/// The same for a PNG: 100 pixels across, each the mean of what it covers, so that another version
/// of a font does not count: on average within 1.5 of 255 and nowhere more than 48 apart.
void check_golden_picture(const std::string& name, const std::string& png);

/// What differs, a few lines; empty when nothing does. `a`: as it was, `b`: as it is.
std::vector<std::string> differences(const std::string& a, const std::string& b);

} // namespace leastwall::test
