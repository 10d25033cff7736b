#include "causes/model/error_field.h"

#include "causes/model/cause.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kFew = 32; // shares are put in order without asking for memory

const std::vector<ErrorShare>& shares_at(const ErrorField& field, const WallSample& p) {
  thread_local std::vector<ErrorShare> shares;
  shares.clear();
  field.shares(p, shares);
  return shares;
}

} // namespace

void set_field(Cause& cause, std::shared_ptr<const ErrorField> field) {
  cause.field = std::move(field);
  cause.sensitivity = [f = cause.field](const WallSample& p) {
    const std::vector<ErrorShare>& shares = shares_at(*f, p);
    if (shares.size() == 1)
      return shares[0].c;
    double sum = 0;
    for (const ErrorShare& s : shares)
      sum += std::abs(s.c);
    return sum;
  };
  cause.sensitivity_2 = [f = cause.field](const WallSample& p) {
    double sum = 0;
    for (const ErrorShare& s : shares_at(*f, p))
      sum += s.c * s.c;
    return std::sqrt(sum);
  };
}

void join_shares(std::vector<ErrorShare>& shares, std::size_t begin) {
  const auto before = [](const ErrorShare& a, const ErrorShare& b) { return a.error < b.error; };
  if (shares.size() - begin > kFew)
    std::stable_sort(shares.begin() + static_cast<std::ptrdiff_t>(begin), shares.end(), before);
  else
    for (std::size_t i = begin + 1; i < shares.size(); ++i) {
      const ErrorShare share = shares[i];
      std::size_t at = i;
      for (; at > begin && before(share, shares[at - 1]); --at)
        shares[at] = shares[at - 1];
      shares[at] = share;
    }
  std::size_t kept = begin;
  for (std::size_t i = begin; i < shares.size();) {
    ErrorShare sum = shares[i];
    for (++i; i < shares.size() && shares[i].error == sum.error; ++i)
      sum.c += shares[i].c;
    if (sum.c != 0)
      shares[kept++] = sum;
  }
  shares.resize(kept);
}

} // namespace leastwall
