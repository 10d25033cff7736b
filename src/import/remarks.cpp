#include "import/remarks.h"

#include <assimp/DefaultLogger.hpp>
#include <assimp/LogStream.hpp>
#include <string_view>

namespace leastwall::import {
namespace {

/// Looks of a model, and parts of an archive that hold none of it.
bool is_beside_the_point(std::string_view text) {
  for (const std::string_view word :
       {"aterial", "exture", "UV", "amera", "ight", "Ignored file of", "normals"})
    if (text.find(word) != text.npos)
      return true;
  return false;
}

class Listener final : public Assimp::LogStream {
 public:
  explicit Listener(Remarks& remarks) : remarks_(remarks) {}

  void write(const char* message) override {
    std::string_view text = message;
    // A line is "Warn,  T0: what is the matter\n".
    if (const std::size_t colon = text.find(": "); colon != text.npos && colon < 16)
      text.remove_prefix(colon + 2);
    while (!text.empty() && (text.back() == '\n' || text.back() == ' ' || text.back() == '.'))
      text.remove_suffix(1);
    if (is_beside_the_point(text))
      return;
    if (remarks_.count++ == 0)
      remarks_.first = text;
  }

 private:
  Remarks& remarks_;
};

} // namespace

void listen(Remarks& remarks) {
  Assimp::DefaultLogger::create("", Assimp::Logger::NORMAL, 0);
  // The logger owns the stream; neither is taken down before the process ends.
  Assimp::DefaultLogger::get()->attachStream(new Listener(remarks),
                                             Assimp::Logger::Warn | Assimp::Logger::Err);
}

} // namespace leastwall::import
