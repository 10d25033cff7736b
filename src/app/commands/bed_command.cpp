#include "app/commands/bed_command.h"

#include "app/commands/output_option.h"
#include "app/os/available_memory.h"
#include "app/os/terminal.h"
#include "app/output/outputs.h"
#include "bed/bed_map.h"
#include "check/bed_under_piece.h"
#include "check/piece_input.h"
#include "report/json/bed_json.h"
#include "report/maps/bed_map_picture.h"
#include "report/text/bed_text.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

SagRow compute_sag(const BedOptions& o) {
  if (!o.sag.span_mm || !o.sag.width_mm || !o.sag.thickness_mm || o.sag.panel.empty())
    throw InputError("bed: sag needs --span, --width, --thickness and --panel together");
  const BedMaterial material = panel_material(o.sag.panel);
  const double along = o.sag.board_along_mm.value_or(*o.sag.span_mm);
  const double across = std::min(
      *o.sag.width_mm, o.sag.board_across_mm.value_or(
                           o.sag.four_edges ? std::min(along, *o.sag.width_mm) : *o.sag.width_mm));
  if (o.sag.board_across_mm && *o.sag.board_across_mm > *o.sag.width_mm)
    throw InputError("bed: --board-width is more than --width; for a board that hangs over state "
                     "the width of the bed");
  SagRow row;
  row.bed = fmt::format("{} {:g} mm thick, {:g} by {:g} mm between {}{}", o.sag.panel,
                        *o.sag.thickness_mm, *o.sag.span_mm, *o.sag.width_mm,
                        o.sag.four_edges ? "supports along four edges" : "two supports",
                        o.sag.centre_support ? ", with a support in the middle" : "");
  row.load = fmt::format("on {:g} by {:g} mm of it", along, across);
  if (!o.sag.four_edges && across < *o.sag.width_mm)
    row.load += ", as if a strip of bed no wider than the board carried it alone";
  const auto compute = [&](const auto& bed, const auto& under_board) {
    const BedLoad own = own_weight(bed);
    row.own = bed_sag(bed, std::span(&own, 1));
    if (!o.sag.board_kg)
      return;
    row.board_weight_n = *o.sag.board_kg * kGravity;
    const BedLoad board{row.board_weight_n, along, o.sag.four_edges ? across : 0};
    row.board = bed_sag(under_board, std::span(&board, 1));
  };
  if (o.sag.four_edges) {
    const BedPlate plate{*o.sag.span_mm, *o.sag.width_mm, *o.sag.thickness_mm, material,
                         o.sag.centre_support};
    compute(plate, plate);
  } else {
    // Cut off from the bed beside it a strip bends more than it does in the bed: the unfavourable
    // end, as with the material.
    BedStrip strip{*o.sag.span_mm, *o.sag.width_mm, *o.sag.thickness_mm,
                   material,       false,           o.sag.centre_support};
    const BedStrip whole = strip;
    strip.width_mm = across;
    compute(whole, strip);
  }
  return row;
}

TramRow compute_tram(const BedOptions& o) {
  if (!o.tram.reading_mm || !o.tram.swing_mm)
    throw InputError("bed: tram needs --tram-reading and --tram-swing together");
  TramRow row;
  row.lean_deg = tram_deg(*o.tram.reading_mm, *o.tram.swing_mm);
  if (o.tram.cutter_mm && o.stepover_mm) {
    row.surfacing = Surfacing{*o.tram.cutter_mm, *o.stepover_mm, row.lean_deg};
    row.marks = tram_marks(*row.surfacing);
  } else if (o.tram.cutter_mm) {
    throw InputError("bed: --cutter needs --stepover, from one surfacing pass to the next");
  }
  return row;
}

BedReadings judge_readings(const BedOptions& o, const std::string& file, ReadingsFile read) {
  BedReadings out{file, std::move(read), {}};
  FlatnessOptions judge;
  judge.stepover_mm = o.stepover_mm;
  judge.tilt_known = out.read.tilt_known;
  // Straightedge gaps along one line may be two; heights need three to span a plane.
  const std::size_t least = out.read.tilt_known ? 3 : 2;
  if (out.read.map.points().size() < least)
    throw InputError(fmt::format("{}: too few readings ({}) for flatness; read at least {} "
                                 "places, better a grid over the whole bed",
                                 file, out.read.map.points().size(), least));
  out.flatness = judge_flatness(out.read.map.points(), judge);
  if (out.read.kind == ReadingsKind::thickness)
    out.flatness.likely_causes.clear(); // those of a bed
  return out;
}

/// Readings that a job states itself; its assumptions tell how they were read.
ReadingsFile readings_of_job(const BedMap& map) {
  ReadingsFile read{map};
  read.readings = map.points().size();
  read.missing = map.missing();
  return read;
}

/// What the command line says about surfacing goes before what the job says.
void state_surfacing(const BedOptions& o, Resurfacing& r) {
  if (o.tram.cutter_mm)
    r.cutter_mm = o.tram.cutter_mm;
  if (o.stepover_mm)
    r.stepover_mm = o.stepover_mm;
  if (!o.tram.reading_mm)
    return;
  r.residual_mm.reset();
  r.tram_reading_mm = o.tram.reading_mm;
  r.tram_swing_mm = o.tram.swing_mm;
}

/// The set-up of one wall of the job, on the readings of the command line where there are some.
void put_on_bed(const BedOptions& o, const BedReport& report, Setup& setup) {
  Bed& bed = setup.bed;
  if (report.readings) {
    bed.readings = std::make_shared<const BedMap>(report.readings->read.map);
    bed.flatness_mm.reset();
  }
  if (!bed.readings && !(bed.flatness_mm.value_or(0) > 0))
    throw InputError(fmt::format("{}: states neither readings of the bed nor its flatness; name a "
                                 "file of readings as well",
                                 o.job));
  if (o.part_origin_mm) {
    bed.part_origin_mm = *o.part_origin_mm;
    bed.part_origin_stated = true;
  }
  if (o.reading_error_mm)
    bed.reading_error = {*o.reading_error_mm, Knowledge::limits};
  state_surfacing(o, bed.resurfacing);
}

/// The job on the bed of the command line, or on its own.
JobInput input_on_bed(const BedOptions& o, const BedReport& report, Outputs& outputs,
                      const RunContext& run) {
  JobInput job = read_job_input(
      o.job, [&outputs](const std::filesystem::path& file) { outputs.reads(file); },
      memory_limit({}), run);
  if (report.readings) {
    if (report.readings->read.kind == ReadingsKind::thickness)
      throw InputError(fmt::format("{}: thickness readings are no bed; name them as board.readings "
                                   "in {}",
                                   o.readings, o.job));
    if (!o.part_origin_mm && !job.first().setup.bed.readings) {
      const Assumption line{"nothing says where the part lies among the readings "
                            "(--part-origin): model 0, 0 lies at their 0, 0"};
      job.assumptions.push_back(line);
      if (job.one_wall())
        job.walls.front().input.assumptions.push_back(line);
    }
  }
  for (WallInput& wall : job.walls) {
    put_on_bed(o, report, wall.input.setup);
    wall.input.budget.with_allowed = false;
    wall.input.budget.pad.reset();
  }
  require_bed_under_piece(job, o.job,
                          report.readings || o.part_origin_mm ? "--part-origin" : "bed.origin");
  fill_reach(job);
  return job;
}

/// Fills the piece's part of `report`; returns how it lies on this bed. A job in inches sets
/// `inches`.
PieceOnBed judge_piece(const BedOptions& o, JobInput job, BedReport& report, bool& inches,
                       const RunContext& run) {
  inches = inches || job.first().budget.units == LengthUnit::inch;
  const JobResult result = check_job(std::move(job), run);
  const CheckResult& wall = result.governing_wall();
  const Setup& setup = wall.setup;
  if (!report.readings && setup.bed.readings)
    report.readings = judge_readings(o, o.job, readings_of_job(*setup.bed.readings));
  Headline headline = verdict_headline(result.report);
  report.piece = BedPiece{o.job,
                          result.report.title,
                          result.report.wall.verdict,
                          result.report.wall.limit_mm,
                          result.report.wall.least_wall.expected_mm,
                          result.report.advice,
                          std::move(headline.banner),
                          std::move(headline.ground)};
  for (const Notice& n : look_first(result.report))
    report.warnings.push_back(n);
  report.resurface = result.report.resurface;
  report.assumptions = result.report.assumptions;
  for (const Notice& warning : result.report.warnings)
    if (warning.code == "board-rocks")
      report.warnings.push_back(warning);
  if (report.readings && !report.readings->read.tilt_known)
    report.warnings.push_back({"tilt-unknown", "A straightedge does not see tilt: the piece is "
                                               "judged as if the bed had none."});
  return piece_on_bed(setup, wall.wall.skin);
}

std::string picture_of(const BedOptions& o, const BedReport& report,
                       const std::optional<PieceOnBed>& piece, bool inches) {
  if (!report.readings)
    throw InputError(fmt::format("{}: has no readings of the bed to draw; leave --map out", o.job));
  const BedMap& map = report.readings->read.map;
  const Flatness& flatness = report.readings->flatness;
  BedPictureOptions picture;
  picture.width_px = o.map_width_px;
  picture.inch = inches;
  picture.title = bed_map_title(flatness, report.piece ? report.piece->title : std::string());
  picture.note = bed_map_note(flatness, report.readings->file);
  return draw_bed_map(map, flatness, piece, picture);
}

} // namespace

ExitStatus run_bed(const BedOptions& o) {
  const bool sag = o.sag.span_mm || o.sag.width_mm || o.sag.thickness_mm || !o.sag.panel.empty() ||
                   o.sag.board_kg;
  const bool tram = o.tram.reading_mm || o.tram.swing_mm;
  if (o.readings.empty() && o.job.empty() && !sag && !tram)
    throw InputError("bed needs a file of readings, --job, --span for sag or --tram-reading for "
                     "tram; see leastwall bed --help");
  const RunContext run = terminal_context(!o.quiet);
  if (!o.map.empty() && o.readings.empty() && o.job.empty())
    throw InputError("bed: --map needs readings to draw");
  BedReport report;
  std::optional<PieceOnBed> piece;
  bool inches = o.inches;

  // What is written is told before anything is read.
  Outputs outputs;
  const bool json_to_stdout = prints_json(outputs, o.json, o.quiet);
  if (!o.json.empty() && !json_to_stdout)
    outputs.add("--json", o.json, [&] { return bed_json(report); });
  if (!o.map.empty())
    outputs.add("--map", o.map, [&] { return picture_of(o, report, piece, inches); });
  for (const std::string& file : {o.readings, o.job})
    if (!file.empty())
      outputs.reads(file);

  if (!o.readings.empty()) {
    report.readings = judge_readings(o, o.readings, read_readings(o.readings, o.reading));
    report.warnings = report.readings->read.notices;
  }
  if (sag)
    report.sag = compute_sag(o);
  if (tram)
    report.tram = compute_tram(o);
  std::optional<JobInput> input;
  if (!o.job.empty())
    input = input_on_bed(o, report, outputs, run);
  outputs.open();
  if (input)
    piece = judge_piece(o, std::move(*input), report, inches, run);

  outputs.commit(run, [&] {
    if (json_to_stdout)
      return bed_json(report);
    if (o.quiet)
      return std::string();
    TextOptions style;
    style.colour = colour_on_stdout();
    style.show_inch = inches;
    return bed_text(report, style);
  });
  return report.piece ? status_of(report.piece->verdict) : kHolds;
}

} // namespace leastwall
