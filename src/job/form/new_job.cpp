#include "job/form/new_job.h"

#include "base/errors.h"
#include "job/keys/key_value.h"
#include "job/toml/quoted_text.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <stdexcept>

namespace leastwall {
namespace {

constexpr std::string_view kName = "the answers";
constexpr std::string_view kHead =
    "A job for leastwall, begun with questions. Lines that begin with # explain. There are more "
    "keys: `leastwall start --all` writes a job with every key.\n"
    "Model frame: x right, y away, z up out of the pocket face.";

constexpr std::string_view kLocatedBy = "flip.located_by", kClearance = "flip.dowels.clearance",
                           kSpacing = "flip.dowels.spacing", kLineError = "flip.line_error";

/// Left out, these would count as nothing, or the job would not be one.
constexpr std::array<std::string_view, 5> kMust{"limit", kClearance, kSpacing, kLineError,
                                                "bed.flatness"};

bool blank(std::string_view text) {
  return text.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

} // namespace

NewJob::NewJob(const Meshes& meshes)
    : stated_{{"title", in_quotes(meshes.title)},
              {"units", in_quotes(meshes.units)},
              {"board", ""},
              {"side_a", ""},
              {"side_b", ""},
              {"bed", ""},
              {"flip", ""},
              {"part", ""},
              {"part.skin", in_quotes(meshes.skin)},
              {"part.placing", ""},
              {"part.placing.units", in_quotes(meshes.units)},
              {"part.pocket", ""},
              {"part.pocket.mesh", in_quotes(meshes.pocket)}},
      begun_(short_sample_text(kHead, stated_)) {
  JobForm form = form_of_job(begun_, kName);
  unit_ = form.unit;
  first_ = std::move(form.first);
  more_ = std::move(form.more);
}

std::vector<FormField> NewJob::asked() const {
  std::vector<FormField> out;
  const auto add = [&](std::string_view path, std::string_view question) {
    out.push_back(*std::ranges::find(more_, path, &FormField::path));
    out.back().question = question;
  };
  for (const FormField& field : first_) {
    if (field.path != kClearance)
      out.push_back(field);
    else if (edges_)
      add(kLineError, "How well are the edges found, plus or minus?");
    else {
      out.push_back(field);
      add(kSpacing, "Distance from dowel to dowel");
    }
  }
  return out;
}

std::optional<NewJob::Question> NewJob::next() const {
  const std::vector<FormField> all = asked();
  if (answered_ >= all.size())
    return std::nullopt;
  const FormField& field = all[answered_];
  const KnownKey& key = *field.key;
  Question q{field.path, &key, field.question, {}, answered_ + 1, all.size()};
  if (key.required || std::ranges::find(kMust, field.path) != kMust.end())
    return q;
  q.usual = key.fallback                   ? number_words(*key.fallback, key, unit_)
            : !key.fallback_choice.empty() ? std::string(key.fallback_choice)
                                           : "not known";
  return q;
}

NewJob::Judged NewJob::answer(std::string_view typed) {
  const std::optional<Question> q = next();
  if (!q)
    throw std::logic_error("no question is open");
  if (blank(typed) && q->usual.empty())
    return {"this must be stated", {}};
  const TypedKey one{q->path, std::string(typed)};
  const TypedKeys judged = typed_keys(begun_, kName, {&one, 1});
  Judged out;
  if (!judged.wrong.empty()) {
    out.wrong = judged.wrong.front().text;
    return out;
  }
  for (const FieldNote& note : judged.understood)
    out.notes.push_back(note.text);
  for (const KeyEdit& edit : judged.edits) {
    if (!edit.value)
      continue;
    if (edit.path == kLocatedBy) {
      edges_ = *edit.value == in_quotes("edges");
      if (!edges_)
        stated_.emplace_back("flip.dowels", "");
    }
    stated_.emplace_back(edit.path, *edit.value);
  }
  ++answered_;
  return out;
}

std::string NewJob::text() const {
  if (next())
    throw std::logic_error("a question is open");
  return short_sample_text(kHead, stated_);
}

} // namespace leastwall
