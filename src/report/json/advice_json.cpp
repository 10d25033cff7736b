#include "report/json/advice_json.h"

namespace leastwall {
namespace {

struct Writer {
  Json operator()(JobChange::Remove) const { return nullptr; }
  Json operator()(const std::string& word) const { return word; }
  Json operator()(double length) const { return json_number(length); }
  Json operator()(const std::vector<double>& lengths) const {
    Json out = Json::array();
    for (const double v : lengths)
      out.push_back(json_number(v));
    return out;
  }
  Json operator()(const Uncertain& error) const {
    return {{"standard", json_number(error.size_mm)}};
  }
};

} // namespace

Json advice_json(const AdviceRow& row) {
  Json out = {{"change", row.change},
              {"gain_mm", json_number(row.gain_mm)},
              {"verdict", verdict_word(row.verdict)},
              {"cost", row.cost}};
  for (const JobChange& change : row.set)
    out["set"][change.key] = std::visit(Writer{}, change.value);
  return out;
}

} // namespace leastwall
