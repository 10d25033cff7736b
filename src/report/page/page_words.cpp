#include "report/page/page_words.h"

#include "causes/model/distribution.h"
#include "report/words/length_text.h"
#include "report/words/verdict_text.h"

#include <string>

namespace leastwall {
namespace {

void add(Json& to, const std::string& text) {
  std::string inches = LengthText{true}.sentence(text);
  if (inches != text)
    to[text] = std::move(inches);
}

/// What stands between the name of a cause and its unit.
const char* way_of(Distribution::Shape shape) {
  switch (shape) {
  case Distribution::shift:
    return "known";
  case Distribution::rectangle:
    return "\u00b1 at most";
  case Distribution::normal:
    return "standard";
  case Distribution::half_uniform:
    return "0 to";
  case Distribution::disc:
    return "any way, up to";
  }
  return "";
}

} // namespace

Json page_words() {
  Json out;
  for (const Verdict v :
       {Verdict::safe, Verdict::at_risk, Verdict::thin, Verdict::cut_through, Verdict::unproven})
    out["verdicts"][std::string(verdict_word(v))] = verdict_in_text(v);
  for (const char* cost : {"free", "work", "model"})
    out["costs"][cost] = cost_text(cost);
  for (const Distribution::Shape shape :
       {Distribution::shift, Distribution::rectangle, Distribution::normal,
        Distribution::half_uniform, Distribution::disc})
    out["ways"][Distribution(shape).key()] = way_of(shape);
  for (const SentenceWords& s : sentence_text())
    out["sentences"][std::string(s.key)] = s.text;
  out["at_least"] = kAtLeast;
  return out;
}

Json finding_in_inches(const CheckReport& report) {
  Json out = Json::object();
  add(out, finding_text(report));
  return out;
}

Json words_in_inches(const CheckReport& report) {
  Json out = finding_in_inches(report);
  for (const AdviceRow& a : report.advice)
    add(out, a.change);
  for (const Notice& n : report.warnings)
    add(out, n.text);
  for (const Assumption& a : report.assumptions)
    add(out, a.text);
  for (const std::string& text : report.not_checked)
    add(out, text);
  return out;
}

} // namespace leastwall
