#include "mesh/syntax/text_scanner.h"

#include "base/file/refuse_file.h"

#include <charconv>
#include <fmt/format.h>
#include <limits>

namespace leastwall {
namespace {

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}
bool is_line_end(char c) {
  return c == '\n' || c == '\r';
}

} // namespace

bool is_word(std::string_view word, std::string_view lower_case) {
  if (word.size() != lower_case.size())
    return false;
  for (std::size_t i = 0; i < word.size(); ++i) {
    const char c = word[i] >= 'A' && word[i] <= 'Z' ? static_cast<char>(word[i] + 32) : word[i];
    if (c != lower_case[i])
      return false;
  }
  return true;
}

void TextScanner::skip(bool over_lines) {
  while (at_ != end_) {
    if (is_blank(*at_)) {
      ++at_;
    } else if (over_lines && is_line_end(*at_)) {
      if (*at_ == '\n' || at_ + 1 == end_ || at_[1] != '\n')
        ++line_;
      ++at_;
    } else {
      break;
    }
  }
  word_line_ = line_;
}

std::string_view TextScanner::take() {
  const char* begin = at_;
  while (at_ != end_ && !is_blank(*at_) && !is_line_end(*at_))
    ++at_;
  return {begin, static_cast<std::size_t>(at_ - begin)};
}

std::string_view TextScanner::word() {
  skip(true);
  return take();
}

std::string_view TextScanner::word_in_line() {
  skip(false);
  return take();
}

std::string_view TextScanner::rest_of_line() {
  word_line_ = line_;
  const char* begin = at_;
  while (at_ != end_ && !is_line_end(*at_))
    ++at_;
  const std::string_view rest(begin, static_cast<std::size_t>(at_ - begin));
  if (at_ != end_) {
    if (*at_ == '\r' && at_ + 1 != end_ && at_[1] == '\n')
      ++at_;
    ++at_;
    ++line_;
  }
  return rest;
}

double TextScanner::number_of(std::string_view token) const {
  std::string_view digits = token;
  if (digits.size() > 1 && digits[0] == '+' && digits[1] != '-')
    digits.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error == std::errc::result_out_of_range && end == digits.data() + digits.size()) {
    // Too small to hold is 0, too big is infinite: the exponent tells, or the place of the point.
    const std::size_t e = digits.find_first_of("eE");
    const bool tiny = e != digits.npos ? digits.substr(e + 1, 1) == "-" : digits.find('.') < 100;
    return tiny ? 0.0 : std::numeric_limits<double>::infinity();
  }
  if (error != std::errc{} || end != digits.data() + digits.size()) {
    if (token.empty())
      refuse("ends where a number was expected", "export the mesh again: the file is cut off");
    refuse(fmt::format("\"{}\" is not a number", one_line(token, 40)),
           token.find(',') != token.npos
               ? "write numbers with a decimal point and no thousands separators"
               : "export the mesh again");
  }
  return value;
}

double TextScanner::number() {
  return number_of(word());
}

double TextScanner::number_in_line() {
  const std::string_view token = word_in_line();
  if (token.empty())
    refuse("has too few numbers", "export the mesh again");
  return number_of(token);
}

void TextScanner::refuse(std::string_view what, std::string_view todo) const {
  refuse_file(file_, fmt::format("line {}: {}", word_line_, what), todo);
}

} // namespace leastwall
