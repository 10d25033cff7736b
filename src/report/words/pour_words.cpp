#include "report/words/pour_words.h"

#include "base/maths/angles.h"
#include "base/text/listed.h"
#include "report/words/amount_text.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <numbers>

namespace leastwall {
namespace {

/// "2", "2.33", "0.5": up to three figures behind the first one, none that say nothing.
std::string plain(double value) {
  return fmt::format("{:.4g}", value);
}

/// A length in mm without decimals that say nothing: "21.27", "15".
std::string level(double mm, bool inch) {
  return LengthText{inch}.length(mm, 1);
}

/// Areas that people picture in cm2.
std::string area(double mm2, bool inch) {
  return inch ? LengthText{true}.area(mm2) : fmt::format("{:.1f} cm2", mm2 / 100);
}

std::string hours(double h) {
  return fmt::format("{:.6g} {}", h, h == 1 ? "hour" : "hours");
}

/// Seen from above with the pocket face up.
std::string towards(double deg) {
  static constexpr std::array<const char*, 8> kWays{
      "right (+x)", "right and away from you", "away from you (+y)", "left and away from you",
      "left (-x)",  "left and towards you",    "towards you (-y)",   "right and towards you"};
  const double turned = std::fmod(std::fmod(deg, 360) + 360, 360);
  const auto eighth = static_cast<std::size_t>(std::lround(turned / 45)) % 8;
  return std::abs(turned - 45 * std::round(turned / 45)) < 1e-9 && eighth % 2 == 0
             ? kWays[eighth]
             : fmt::format("{} ({:.4g} degrees from +x)", kWays[eighth], turned);
}

std::vector<std::string> named_parts(const PourName& name) {
  std::vector<std::string> out;
  for (const std::string& part : name.parts)
    if (!part.empty())
      out.push_back(part);
  return out;
}

/// Where the thinnest place of a pocket lies on the board, in each part that has it.
std::string thin_places(const PourRow& row, const LengthText& words) {
  if (row.on_board.empty())
    return words.place(row.thin->at);
  std::vector<std::string> places;
  for (std::size_t i = 0; i < row.on_board.size(); ++i)
    places.push_back(words.place(row.on_board[i].thin_at) +
                     (row.count() > 1 ? " in " + row.name.parts[i] : ""));
  return listed(places) + ", side A up";
}

} // namespace

std::string pour_title(const PourRow& row) {
  const std::vector<std::string> parts = named_parts(row.name);
  return fmt::format("{} into {}{}", row.name.material, row.name.pocket,
                     parts.empty() ? "" : " of " + listed(parts));
}

std::string warning_sentence(const PourReport& report, const PourWarning& warning) {
  const PourName& name = report.rows[warning.row].name;
  const bool of_many = std::ranges::count_if(report.rows, [&name](const PourRow& row) {
                         return row.name.pocket == name.pocket;
                       }) > 1;
  std::string of;
  if (const auto parts = named_parts(name); of_many && !parts.empty())
    of = " of " + listed(parts);
  return fmt::format("{}{}: {}", name.pocket, of, warning.notice.text);
}

std::string pour_when(const PourReport& report, const std::optional<double>& after_h) {
  if (!after_h)
    return "";
  if (!report.start)
    return *after_h > 0 ? fmt::format("after {:.6g} h", *after_h) : "at once";
  static constexpr std::array<const char*, 12> kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                       "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  using namespace std::chrono;
  const ClockTime at = later(*report.start, *after_h);
  const year_month_day day(floor<days>(at));
  const std::string whole = clock_time_text(at); // "Sat 2026-03-14 18:00"
  return fmt::format("{} {} {} {}", whole.substr(0, 3), static_cast<unsigned>(day.day()),
                     kMonths[static_cast<unsigned>(day.month()) - 1], whole.substr(15));
}

std::string fill_to(const PourLift& lift, bool inch) {
  return lift.under_face_mm > 0 ? level(lift.under_face_mm, inch) + " under the face"
                                : "to the face";
}

std::string ratio_text(const Resin& resin) {
  if (!resin.ratio)
    return "";
  const auto words = [](const MixRatio& r) {
    return fmt::format("{}:{} by {}", plain(r.a), plain(r.b), r.by_weight ? "weight" : "volume");
  };
  const std::optional<MixRatio> other = other_ratio(resin);
  return words(*resin.ratio) + (other ? ", that is " + words(*other) : "");
}

std::string amounts_text(const Amounts& amounts, bool inch) {
  std::string out;
  const auto one = [&](const char* name, const std::optional<double>& mm3,
                       const std::optional<double>& g) {
    if (!mm3)
      return;
    out += fmt::format("{}{} {}{}", out.empty() ? "" : ", ", name, volume_text(*mm3, inch),
                       g ? fmt::format(" = {}", weight_text(*g, inch)) : "");
  };
  one("A", amounts.a_mm3, amounts.a_g);
  one("B", amounts.b_mm3, amounts.b_g);
  return out;
}

std::vector<std::string> volume_sentences(const PourRow& row, bool inch) {
  std::vector<std::string> out;
  if (!row.volume)
    return {fmt::format("How much it holds is not known; what its mesh shows is {} deep.",
                        level(row.depth_mm, inch))};
  const PourVolume& v = *row.volume;
  out.push_back(fmt::format("{} {} up to the pocket face; {} at its deepest.",
                            row.count() > 1 ? fmt::format("Each of the {} holds", row.count())
                                            : std::string("Holds"),
                            volume_text(v.mm3, inch), level(row.depth_mm, inch)));
  if (v.less_mm3 > 0 || v.more_mm3 > 0)
    out.push_back(fmt::format(
        "The mesh is open, so that it may be up to {} less{}.", volume_text(v.less_mm3, inch),
        v.more_mm3 > 0 ? fmt::format(" or {} more", volume_text(v.more_mm3, inch)) : ""));
  if (v.later_mm3 > 0)
    out.push_back(fmt::format("Later pockets cut {}{} of it out again; {} stay.",
                              v.later_exact ? "" : "about ", volume_text(v.later_mm3, inch),
                              volume_text(std::max(0.0, v.mm3 - v.later_mm3), inch)));
  return out;
}

std::vector<std::string> mix_sentences(const PourRow& row, bool inch) {
  std::vector<std::string> out;
  if (!row.volume)
    return out;
  const std::string ratio = ratio_text(row.resin), amounts = amounts_text(row.amounts, inch);
  out.push_back(fmt::format(
      "Mix {}{}{}{}.", volume_text(row.mix_mm3, inch), row.count() > 1 ? " for each" : "",
      row.resin.overage_percent ? fmt::format(", {} % over", plain(*row.resin.overage_percent))
                                : ", nothing over (no overage is stated)",
      amounts.empty() ? "" : ": " + amounts));
  if (!ratio.empty())
    out.push_back(fmt::format("A to B {}.", ratio));
  return out;
}

std::vector<std::string> tilt_sentences(const PourRow& row, const Tilt& tilt, bool inch) {
  if (!row.tilted)
    return {};
  const TiltedPour& t = *row.tilted;
  const LengthText words{inch};
  const auto mm = [&](double value) { return words.length(value, 2); };
  std::vector<std::string> out;
  out.push_back(words.sentence(fmt::format(
      "Board off level by {:.2f} mm per m ({:.3f} degrees), lowest {}{}: poured up to the lowest "
      "place of the rim it holds",
      1000 * tilt.slope, maths::atan(tilt.slope) * 180 / std::numbers::pi, towards(t.towards_deg),
      tilt.towards_deg ? "" : ", the worst direction, as none is stated")));
  out.back() += fmt::format(" {} and ends {} under the highest place.",
                            volume_text(t.brim_mm3, inch), mm(t.short_mm));
  out.push_back(fmt::format("The measured amount would stand {} over the low rim, or run over it, "
                            "and {} short at the high one.",
                            mm(t.over_mm), mm(t.under_mm)));
  out.push_back(fmt::format("To fill all of it put a dam at least {} high round the rim, pour {} "
                            "in all, and skim off up to {} at the low side when it has cured. "
                            "Levelling the board is less work.",
                            mm(t.short_mm), volume_text(t.dammed_mm3, inch), mm(t.short_mm)));
  return out;
}

std::vector<std::string> care_sentences(const PourRow& row, bool inch) {
  const LengthText words{inch};
  std::vector<std::string> out;
  if (row.seal_g)
    out.push_back(fmt::format("Seal coat first: {} of bare wood take {} at {} g/m2{}.",
                              area(row.area_mm2, inch), weight_text(*row.seal_g, inch),
                              plain(*row.resin.seal_coat_g_per_m2),
                              row.count() > 1 ? ", in each" : ""));
  double most = 0;
  for (const PourLift& lift : row.lifts)
    most = std::max(most, lift.mix_mm3);
  if (most > 0 && !row.resin.cup_ml)
    out.push_back(fmt::format("The largest lift needs a cup of at least {}: three quarters full, "
                              "so that there is room to stir.",
                              volume_text(std::ceil(most / kCupFilled / 10'000) * 10'000, inch)));
  if (row.resin.cup_ml) {
    std::size_t cups = 0;
    for (const PourLift& lift : row.lifts)
      cups = std::max(cups, lift.cups.value_or(0));
    if (cups > 1)
      out.push_back(fmt::format("A cup of {} filled three quarters is not enough: the largest lift "
                                "takes {} cups, mixed one after the other.",
                                volume_text(*row.resin.cup_ml * 1000, inch), cups));
    else if (cups == 1)
      out.push_back(fmt::format("Each lift fits into a cup of {} filled three quarters.",
                                volume_text(*row.resin.cup_ml * 1000, inch)));
  }
  if (row.thin) {
    const ThinFloor& t = *row.thin;
    if (t.area_mm2 > 0)
      out.push_back(fmt::format("Wall to the skin under {}: {} of the pocket{}, least {} at {}. "
                                "Resin may bleed through there, and its heat may mark the wood: "
                                "a warning, not a promise that it holds elsewhere.",
                                words.length(t.limit_mm, 2), area(t.area_mm2, inch),
                                row.count() > 1 ? ", each" : "", words.length(t.least_mm, 2),
                                thin_places(row, words)));
    else
      out.push_back(fmt::format("No wall to the skin is drawn under {}: least {}.",
                                words.length(t.limit_mm, 2), words.length(t.least_mm, 2)));
  }
  for (const PourLift& lift : row.lifts)
    if (lift.pools > 1) {
      out.push_back("A lift that stands in several pools is filled to its level in each of them, "
                    "not by volume.");
      break;
    }
  return out;
}

std::string cut_sentence(const PourReport& report, const PourRow& row, std::string_view of) {
  if (!row.may_be_cut_h || !row.resin.hours_until_cut)
    return "";
  return fmt::format("May be cut from {}, {} after the last lift.",
                     report.start
                         ? pour_when(report, row.may_be_cut_h)
                         : fmt::format("{} after the first lift {}", hours(*row.may_be_cut_h), of),
                     hours(*row.resin.hours_until_cut));
}

std::string asked_sentence(const PourRow& row) {
  if (row.asked.empty())
    return "";
  return fmt::format("Asked for: state {} for {} in [part.pocket.resin], from the resin's data "
                     "sheet.",
                     listed(row.asked), row.name.pocket);
}

std::string one_paragraph(const std::vector<std::string>& sentences) {
  return fmt::format("{}", fmt::join(sentences, " "));
}

std::vector<std::string> total_sentences(const PourReport& report, bool inch) {
  std::vector<std::string> out;
  for (const PourTotal& total : report.totals) {
    const std::string amounts = amounts_text(total.amounts, inch);
    out.push_back(fmt::format("{}: {}{}.", total.material, volume_text(total.mix_mm3, inch),
                              amounts.empty() ? "" : " of mix; " + amounts));
  }
  return out;
}

std::vector<std::string> pour_cautions() {
  return {"Read the resin's data sheet and safety data sheet first: they come before every number "
          "here.",
          "Resin heats as it cures, more the deeper it stands, and most in the cup: never pour "
          "deeper than the data sheet allows, do not leave mixed resin standing in the cup, keep "
          "it away from what burns.",
          "It gives off fumes and harms the skin: ventilate, wear gloves and eye protection that "
          "the safety data sheet names. Dust of resin that has not cured harms, too."};
}

std::vector<std::string> pour_not_checked() {
  return {"how the resin flows, heats, shrinks and holds; what soaks into the wood",
          "pockets are taken as drawn: what the cutter leaves or takes beyond that is not counted",
          "whether the wood lets resin through at pores, cracks and knots"};
}

} // namespace leastwall
