// Floor: reads the bytes of both files, one after the other, and adds them up so that they are
// touched.
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <unistd.h>
#include <vector>

int main(int argc, char** argv) {
  std::vector<char> buffer(1 << 20);
  std::uint64_t bytes = 0, sum = 0;
  for (int i = 1; i < argc; ++i) {
    const int file = open(argv[i], O_RDONLY);
    ssize_t got = -1;
    while (file >= 0 && (got = read(file, buffer.data(), buffer.size())) > 0) {
      bytes += static_cast<std::uint64_t>(got);
      for (ssize_t at = 0; at + 8 <= got; at += 8) {
        std::uint64_t word;
        std::memcpy(&word, buffer.data() + at, 8);
        sum += word;
      }
    }
    if (got < 0) {
      std::perror(argv[i]);
      return 3;
    }
    close(file);
  }
  std::printf("{\"bytes\": %llu, \"sum\": %llu}\n", static_cast<unsigned long long>(bytes),
              static_cast<unsigned long long>(sum));
  return 0;
}
