#include "app/commands/length_option.h"

#include "base/sane_size.h"
#include "base/text/parse_length.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kMin_mm = 1e-6, kMax_mm = kLargestLength_mm;

} // namespace

CLI::Option* add_length(CLI::App* command, const std::string& name, std::optional<double>& to_mm,
                        const std::string& help, bool may_be_negative) {
  return command
      ->add_option_function<std::string>(
          name,
          [&to_mm, name, may_be_negative](const std::string& text) {
            const std::optional<double> mm = length_from_text(text);
            if (!mm) {
              const std::string fault = length_fault(text);
              throw CLI::ValidationError(
                  name, fmt::format("'{}' is no length; {}", text,
                                    fault.empty() ? "write 0.8, 0.8mm, 0.03in or 1/32in" : fault));
            }
            if (*mm < 0 && !may_be_negative)
              throw CLI::ValidationError(
                  name, fmt::format("{} is negative; give the size without a sign", text));
            if (std::abs(*mm) > kMax_mm || (*mm != 0 && std::abs(*mm) < kMin_mm))
              throw CLI::ValidationError(
                  name,
                  fmt::format("'{}' is no size of a workpiece; give {:.6f} to {:.0f} mm, or 0",
                              text, kMin_mm, kMax_mm));
            to_mm = mm;
          },
          help)
      ->type_name("LENGTH");
}

} // namespace leastwall
