#include "app/length_option.h"

#include "base/length_text.h"

#include <fmt/format.h>

namespace leastwall {

CLI::Option* add_length(CLI::App* command, const std::string& name, std::optional<double>& to_mm,
                        const std::string& help, bool may_be_negative) {
  return command
      ->add_option_function<std::string>(
          name,
          [&to_mm, name, may_be_negative](const std::string& text) {
            const std::optional<double> mm = length_from_text(text);
            if (!mm)
              throw CLI::ValidationError(
                  name, fmt::format("'{}' is no length; write 0.8, 0.8mm or 0.03in", text));
            if (*mm < 0 && !may_be_negative)
              throw CLI::ValidationError(
                  name, fmt::format("{} is negative; give the size without a sign", text));
            to_mm = mm;
          },
          help)
      ->type_name("LENGTH");
}

} // namespace leastwall
