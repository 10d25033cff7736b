#include "check/quick/quick_input.h"

#include "base/errors.h"
#include "setup/quick_setup.h"

#include <filesystem>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

void require(bool given, const char* option, const char* what) {
  if (!given)
    throw InputError(fmt::format("check needs {}: {}", option, what));
}

} // namespace

CheckInput read_quick_input(const QuickLook& look, const TellRead& tell, const MemoryLimit& memory,
                            const RunContext& run) {
  require(!look.pocket.empty(), "--pocket FILE", "the mesh of the inner pocket, or a job file");
  require(!look.skin.empty(), "--skin FILE", "the mesh of the outer skin");
  require(look.limit_mm.has_value(), "--limit LENGTH", "the thinnest wall that still serves");
  if (!(*look.limit_mm > 0))
    throw InputError("--limit must be over 0: give the thinnest wall that still serves");
  tell(look.pocket);
  tell(look.skin);
  CheckInput input;
  input.pocket_file = look.pocket;
  input.skin_file = look.skin;
  input.title = std::filesystem::path(look.skin).stem().string();
  LoadOptions load;
  load.unit_if_unstated = look.units;
  MeshWanted pocket{look.pocket, load, {}}, skin{look.skin, load, {}};
  QuickFlags flags;
  flags.z_zero_mm = look.z_zero_mm.value_or(0);
  flags.bed_flatness_mm = look.bed_flatness_mm.value_or(0);
  input.setup = quick_setup(flags, input.assumptions);
  load_both(pocket, skin, input, memory, run);
  input.pocket = std::move(pocket.loaded);
  input.skin = std::move(skin.loaded);
  if (!look.z_zero_mm)
    input.assumptions.push_back({"no error of the Z zero was stated (--z-zero): none is counted"});
  if (!look.bed_flatness_mm)
    input.assumptions.push_back(
        {"no flatness of the bed was stated (--bed-flatness): none is counted"});
  input.budget.limit_mm = *look.limit_mm;
  input.top_z_mm = look.top_z_mm;
  return input;
}

} // namespace leastwall
