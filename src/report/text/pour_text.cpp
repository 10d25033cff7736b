#include "report/text/pour_text.h"

#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/amount_text.h"
#include "report/words/length_text.h"
#include "report/words/pour_words.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

/// Its sentences come in the unit that is asked for.
class Writer : Paragraphs {
 public:
  Writer(const PourReport& report, bool inch)
      : Paragraphs(LengthText{false}), r_(report), inch_(inch) {}

  std::string write() {
    para("POUR: " + r_.title);
    para(r_.start
             ? fmt::format("Begins {}; times are by the clock of the shop.", pour_when(r_, 0.0))
             : std::string("Times count from the first lift; state pour.start, or give "
                           "--start, for days."));
    for (std::size_t i = 0; i < r_.rows.size(); ++i)
      row(i);
    if (r_.rows.size() > 1 || r_.rows.front().count() > 1) {
      heading("Altogether");
      for (const std::string& words : total_sentences(r_, inch_))
        para(words, "  - ");
    }
    out_ += "\n";
    if (r_.side_b_h)
      para(fmt::format("Side B no earlier than {}. The hours are those stated for the resin; what "
                       "cutting takes in between is not in them.",
                       r_.start ? pour_when(r_, r_.side_b_h)
                                : fmt::format("{:.6g} hours after the first lift", *r_.side_b_h)));
    else
      para("When side B may be cut is not known: hours are missing.");
    list("Warnings", warnings());
    list("Before you pour", pour_cautions());
    list("Not checked", pour_not_checked());
    para("Advice, never a guarantee.");
    return take();
  }

 private:
  std::vector<std::string> warnings() const {
    std::vector<std::string> out;
    for (const PourWarning& w : r_.warnings)
      out.push_back(LengthText{inch_}.sentence(warning_sentence(r_, w)));
    return out;
  }

  void row(std::size_t i) {
    const PourRow& row = r_.rows[i];
    heading(fmt::format("{}. {}", i + 1, pour_title(row)));
    for (const std::string& words : volume_sentences(row, inch_))
      para(words, "   ");
    for (const std::string& words : mix_sentences(row, inch_))
      para(words, "   ");
    lifts(row);
    for (const std::string& words : care_sentences(row, inch_))
      para(words, "   ");
    if (r_.tilt)
      for (const std::string& words : tilt_sentences(row, *r_.tilt, inch_))
        para(words, "   ");
    for (const std::string& words : {cut_sentence(r_, row), asked_sentence(row)})
      if (!words.empty())
        para(words, "   ");
  }

  void lifts(const PourRow& row) {
    if (row.lifts.empty())
      return;
    out_ += "\n";
    para(fmt::format("{} {} of {}{}; fill to so far under the face ({}); volumes in ml, weights in "
                     "g{}:",
                     row.lifts.size(), row.lifts.size() == 1 ? "lift" : "lifts",
                     LengthText{inch_}.length(row.lifts.front().thickness_mm, 2),
                     row.count() > 1 ? " in each" : "", inch_ ? "in" : "mm",
                     row.count() > 1 ? ", for each" : ""),
         "   ");
    TextTable table{
        {"lift", "fill to", "holds", "mix", "A ml", "B ml", "A g", "B g", "pools", "cups", "when"},
        {false, false, false, false, false, false, false, false, false, false, true},
        {}};
    const bool pools = std::ranges::any_of(row.lifts, [](const auto& l) { return l.pools > 1; });
    const bool cups =
        std::ranges::any_of(row.lifts, [](const auto& l) { return l.cups.value_or(1) > 1; });
    for (std::size_t k = 0; k < row.lifts.size(); ++k) {
      const PourLift& lift = row.lifts[k];
      table.rows.push_back(
          {std::to_string(k + 1),
           lift.under_face_mm > 0 ? LengthText{inch_}.number(lift.under_face_mm, 1) : "face",
           ml_number(lift.volume_mm3), ml_number(lift.mix_mm3), ml_number(lift.amounts.a_mm3),
           ml_number(lift.amounts.b_mm3), gram_number(lift.amounts.a_g),
           gram_number(lift.amounts.b_g), pools ? std::to_string(lift.pools) : "",
           cups && lift.cups ? std::to_string(*lift.cups) : "", pour_when(r_, lift.after_h)});
    }
    out_ += text_table(table, width_);
    out_ += "\n";
  }

  const PourReport& r_;
  bool inch_;
};

} // namespace

std::string pour_text(const PourReport& report, bool inch) {
  return Writer(report, inch).write();
}

} // namespace leastwall
