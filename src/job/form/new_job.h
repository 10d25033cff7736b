// A job for two meshes, begun with the questions that matter first, one after the other.
#pragma once

#include "job/form/job_form.h"
#include "job/keys/sample_text.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

class NewJob {
 public:
  struct Meshes {
    std::string title, skin, pocket; ///< files as they stand in the job
    std::string_view units = "mm";   ///< or "inch": of bare numbers, and of meshes that state none
  };
  explicit NewJob(const Meshes& meshes);

  struct Question {
    std::string path;
    const KnownKey* key = nullptr;
    std::string_view text;
    std::string usual; ///< what an empty answer means; empty: it must be answered
    std::size_t number = 1, of = 1;
  };
  /// The first question without an answer; absent when there is none. What brings the board back
  /// decides what else is asked: play and distance of the dowels, or the error of the line.
  std::optional<Question> next() const;

  struct Judged {
    std::string wrong; ///< why it is no answer, in words of the reader of jobs; empty: it is taken
    std::vector<std::string> notes;
  };
  /// Judges what was typed as a form does (typed_keys) and takes it when it is right.
  Judged answer(std::string_view typed);

  /// The short commented job. Throws std::logic_error while a question is open.
  std::string text() const;

 private:
  std::vector<FormField> asked() const;

  StatedValues stated_;
  std::string begun_; ///< what is stated without the answers
  LengthUnit unit_ = LengthUnit::mm;
  std::vector<FormField> first_, more_;
  std::size_t answered_ = 0;
  bool edges_ = false; ///< the board is found by its edges
};

} // namespace leastwall
