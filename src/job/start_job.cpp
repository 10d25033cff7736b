#include "job/start_job.h"

#include "job/keys/sample_text.h"
#include "job/toml/quoted_text.h"

#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

/// Above a sample with every key.
constexpr std::string_view kHowToAll =
    "Lines that begin with # and a blank explain. Lines that begin with # and no blank are keys "
    "left out: take the # away to state them. What is left out is listed in the report with the "
    "value used instead.\n"
    "Model frame: x right, y away, z up out of the pocket face.";

/// Above one with the keys that matter.
constexpr std::string_view kHowTo =
    "Lines that begin with # explain. There are more keys: `leastwall check --all` lists what is "
    "not "
    "stated with the value used instead, `leastwall start --all` writes every key.\n"
    "Model frame: x right, y away, z up out of the pocket face.";

std::string number(double value) {
  return fmt::format("{}", value);
}
std::string point(Point2 p) {
  return fmt::format("[{}, {}]", p.x, p.y);
}
std::string size_of(const Footprint& board) {
  return point({board.high.x - board.low.x, board.high.y - board.low.y});
}
std::string zero_word(ZeroFrom zero) {
  return in_quotes(zero == ZeroFrom::top ? "top" : "bed");
}

/// Values for keys that are left out, near those that are stated.
StatedValues suggestions(double board_mm, const Footprint& board, double limit_mm) {
  const Point2 l = board.low, h = board.high;
  const auto row = [&](double x, double y, double more_mm) {
    return fmt::format("[{:.6g}, {:.6g}, {:.6g}]", 0.7 * x, 0.7 * y, board_mm + more_mm);
  };
  return {
      {"board.measured", fmt::format("{:.6g}", board_mm + 0.12)},
      {"board.readings", fmt::format("[{}, {}, {}, {}]", row(l.x, l.y, 0.10), row(h.x, l.y, 0.16),
                                     row(l.x, h.y, 0.08), row(h.x, h.y, 0.14))},
      {"flip.dowels.middle", point(board.middle())},
      {"side_a.thickness", number(board_mm)},
      {"side_b.thickness", number(board_mm)},
      {"part.pocket.limit", number(limit_mm)},
  };
}

/// What both jobs of the gourd state.
StatedValues gourd_values(const GourdNumbers& n, std::string_view title, double pins_apart_mm) {
  return {
      {"title", in_quotes(title)},
      {"units", in_quotes("mm")},
      {"limit", number(n.limit_mm)},
      {"accepted_chance", in_quotes("1 in 20")},
      {"board", ""},
      {"board.thickness", number(n.board_mm)},
      {"board.thickness_error", number(n.thickness_error_mm)},
      {"board.corner", point(n.board.low)},
      {"board.size", size_of(n.board)},
      {"side_a", ""},
      {"side_a.zero", zero_word(n.zero_a)},
      {"side_a.touch_point", point(n.touch_point)},
      {"side_a.touch_off", number(n.touch_off_mm)},
      {"side_a.bit", ""},
      {"side_a.bit.ball_radius", "1.5"},
      {"side_a.bit.radius_error", "0.01"},
      {"side_b", ""},
      {"side_b.zero", zero_word(n.zero_b)},
      {"side_b.touch_point", point(n.touch_point)},
      {"side_b.touch_off", number(n.touch_off_mm)},
      {"side_b.sanding", number(n.sanding_b_mm)},
      {"side_b.bit", ""},
      {"side_b.bit.ball_radius", "1.5"},
      {"side_b.bit.radius_error", "0.01"},
      {"bed", ""},
      {"bed.flatness", number(n.flatness_mm)},
      {"flip", ""},
      {"flip.line", in_quotes("along y")},
      {"flip.at", "0"},
      {"flip.located_by", in_quotes("dowels")},
      {"flip.dowels", ""},
      {"flip.dowels.spacing", number(pins_apart_mm)},
      {"flip.dowels.clearance", "0.04"},
      {"part", ""},
      {"part.name", in_quotes("left half")},
      {"part.skin", in_quotes(n.skin)},
      {"part.placing", ""},
      {"part.placing.units", in_quotes("mm")},
      {"part.pocket", ""},
      {"part.pocket.name", in_quotes("candle room")},
      {"part.pocket.mesh", in_quotes(n.pocket)},
      {"part.pocket.material", in_quotes("amber resin")},
      {"part.pocket.resin", ""},
      {"part.pocket.resin.ratio", in_quotes("2:1")},
      {"part.pocket.resin.ratio_by", in_quotes("volume")},
      {"part.pocket.resin.density_a", "1.14"},
      {"part.pocket.resin.density_b", "0.98"},
      {"part.pocket.resin.deepest_lift", "15"},
      {"part.pocket.resin.hours_between_lifts", "24"},
      {"part.pocket.resin.hours_until_cut", "72"},
      {"part.pocket.resin.overage", "10"},
      {"part.pocket.resin.cup", "400"},
      {"part.pocket.resin.seal_coat", "150"},
      {"part.pocket.resin.thin_wall", "1.5"},
  };
}

/// The sample with every key, or with the stated ones alone.
std::string sample(std::string_view what, const StatedValues& stated, const StatedValues& suggested,
                   JobKeys keys) {
  return keys == JobKeys::all
             ? sample_text(fmt::format("{}\n{}", what, kHowToAll), stated, suggested)
             : short_sample_text(fmt::format("{}\n{}", what, kHowTo), stated);
}

/// Nobody is to pour by a demo.
std::string with_invented_resin(std::string text) {
  constexpr std::string_view kTable = "[part.pocket.resin]\n";
  return text.insert(text.find(kTable), "# These values are invented for the demo. Take those of "
                                        "your resin's data sheet.\n");
}

/// Another value for what is stated already.
void restate(StatedValues& values, std::string_view path, std::string value) {
  for (auto& [name, stated] : values)
    if (name == path) {
      stated = std::move(value);
      return;
    }
}

} // namespace

std::string gourd_job(const GourdNumbers& n, JobKeys keys) {
  StatedValues stated = gourd_values(n, "Gourd lantern, left half, basswood", 110);
  constexpr std::string_view kWhat = "A job for leastwall: the gourd lantern, left half.";
  const StatedValues suggested = suggestions(n.board_mm, n.board, n.limit_mm);
  if (keys == JobKeys::all)
    return with_invented_resin(sample(kWhat, stated, suggested, keys));
  // What is poured is no matter of the wall; the job of the whole gourd states it.
  std::erase_if(stated, [](const auto& key) { return key.first.starts_with("part.pocket.resin"); });
  return sample(kWhat, stated, suggested, keys);
}

std::string whole_gourd_job(const WholeGourdNumbers& n, JobKeys keys) {
  GourdNumbers half;
  half.limit_mm = n.limit_mm;
  half.board_mm = n.board_mm;
  half.thickness_error_mm = n.thickness_error_mm;
  half.touch_off_mm = n.touch_off_mm;
  half.flatness_mm = n.flatness_mm;
  half.sanding_b_mm = n.sanding_b_mm;
  half.zero_b = ZeroFrom::bed;
  half.board = n.board;
  half.touch_point = n.touch_a;
  half.skin = n.skin;
  half.pocket = n.pocket;
  StatedValues stated = gourd_values(half, "Gourd lantern, whole, basswood", 238);
  restate(stated, "side_b.touch_point", point(n.touch_b));
  stated.emplace_back("board.measured", number(n.board_mm));
  stated.emplace_back("part.place", point({0, n.apart_mm}));
  const std::string first = with_invented_resin(
      sample("A job for leastwall: the whole gourd lantern, both halves on one board.", stated,
             suggestions(n.board_mm, n.board, n.limit_mm), keys));
  return first + fmt::format(R"(
# The ember room, cut into the cured resin of the candle room: put back on the dowels, zeroed again.
[[part.pocket]]
name = "ember room"
inside = "candle room"
mesh = {}
limit = {}
material = "clear resin"
# These values are invented for the demo, too: a thin, slow resin by weight.
[part.pocket.resin]
ratio = "100:30"
ratio_by = "weight"
density_a = 1.1
density_b = 0.95
deepest_lift = 40
hours_between_lifts = 48
hours_until_cut = 96
overage = 5
cup = 400
[part.pocket.side_a]
zero = "top"

# Two dowels of the glue-up: a wooden one in the stem, a thin brass pin at the other end. They say
# how the halves lie on one another, and so how large the step at the seam can be.
[[part.hole]]
name = "dowel"
at = [86, 0]
diameter = 3
depth = 3
from = "pocket face"
glue_up_clearance = 0.1
limit = 1.5

[[part.hole]]
name = "brass pin"
at = [-87.7, 0]
diameter = 1
depth = 2
from = "pocket face"
bottom = "flat"
glue_up_clearance = 0.05
limit = 0.6

# A hole for the cord, through the end of the stem.
[[part.hole]]
name = "cord"
at = [91, 0]
diameter = 1.5
depth = 20
from = "pocket face"
ends = "through"
limit = 1

# The other half: the mirror image, beside the first one.
[[part]]
name = "right half"
mirror_of = "left half"
place = {}
turn = 180
)",
                             in_quotes(n.ember), number(n.resin_limit_mm), point({0, -n.apart_mm}));
}

std::string leaf_job(const LeafNumbers& n, JobKeys keys) {
  const std::string touch_off = fmt::format("{{standard = {}}}", n.touch_off_mm);
  const StatedValues stated = {
      {"title", in_quotes("Leaf light-panel, cherry")},
      {"units", in_quotes("mm")},
      {"limit", number(n.limit_mm)},
      {"board", ""},
      {"board.thickness", number(n.board_mm)},
      {"board.measured", number(n.measured_mm)},
      {"board.thickness_error", "0.02"},
      {"board.corner", point(n.board.low)},
      {"board.size", size_of(n.board)},
      {"side_a", ""},
      {"side_a.zero", in_quotes("top")},
      {"side_a.touch_point", point(n.touch_a)},
      {"side_a.touch_off", touch_off},
      {"side_a.plate_error", number(n.plate_error_mm)},
      {"side_b", ""},
      {"side_b.zero", in_quotes("bed")},
      {"side_b.touch_point", point(n.touch_b)},
      {"side_b.touch_off", touch_off},
      {"side_b.plate_error", number(n.plate_error_mm)},
      {"bed", ""},
      {"bed.flatness", number(n.flatness_mm)},
      {"flip", ""},
      {"flip.line", in_quotes("along y")},
      {"flip.at", "0"},
      {"flip.located_by", in_quotes("edges")},
      {"flip.line_error", "0.05"},
      {"part", ""},
      {"part.name", in_quotes("panel")},
      {"part.skin", in_quotes(n.skin)},
      {"part.placing", ""},
      {"part.placing.units", in_quotes("mm")},
      {"part.pocket", ""},
      {"part.pocket.name", in_quotes("back of the blade")},
      {"part.pocket.mesh", in_quotes(n.pocket)},
  };
  return sample("A job for leastwall: the leaf light-panel. A touch-off alone cuts through: the "
                "plate is thinner than the thickness entered.",
                stated, suggestions(n.board_mm, n.board, n.limit_mm), keys);
}

} // namespace leastwall
