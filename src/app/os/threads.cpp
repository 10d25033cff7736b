#include "app/os/threads.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <sched.h>
#include <string>

namespace leastwall {

int usable_processors() {
  cpu_set_t mask;
  CPU_ZERO(&mask);
  int count = 1;
  if (::sched_getaffinity(0, sizeof mask, &mask) == 0)
    count = std::max(1, CPU_COUNT(&mask));
  // "max 100000" or "150000 100000": microseconds of CPU per period, control groups version 2.
  std::ifstream file("/sys/fs/cgroup/cpu.max");
  std::string quota, period;
  if (file >> quota >> period && quota != "max") {
    double q = 0, p = 0;
    const auto read = [](const std::string& s, double& v) {
      return std::from_chars(s.data(), s.data() + s.size(), v).ec == std::errc{};
    };
    if (read(quota, q) && read(period, p) && q > 0 && p > 0)
      count = std::min(count, std::max(1, static_cast<int>(std::ceil(q / p))));
  }
  return count;
}

} // namespace leastwall
