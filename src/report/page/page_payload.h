// One wall as the page computes with it: facts as JSON, samples as numbers.
#pragma once

#include "base/run_context.h"
#include "report/json/json_values.h"
#include "report/page/page.h"

#include <cstddef>
#include <string>

namespace leastwall {

/// Of a page with several walls: which one it is.
struct OfJob {
  std::size_t number = 1, of = 1;
  std::string name;
};

/// One wall as the page computes with it.
struct Payload {
  std::string facts, numbers; ///< JSON and base64
};

/// Facts take this much of the room, bytes.
inline constexpr std::size_t kRoomForFacts = 200'000;

/// JSON that cannot end the script element it stands in.
std::string json_text(const Json& json);

/// `max_bytes`: of facts and numbers together. `of_job`: set, the walls as they were found are in
/// the numbers, to be shown beside another one. Throws as page_html() does.
Payload payload_of(const PageInput& input, std::size_t max_bytes, const OfJob* of_job,
                   const RunContext& run);

} // namespace leastwall
