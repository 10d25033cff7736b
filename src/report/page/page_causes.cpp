#include "report/page/page_causes.h"

#include "base/parallel.h"
#include "budget/effects/spread.h"
#include "budget/trials/local_errors.h"
#include "budget/trials/shared_sensitivities.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <optional>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 2048, kProbes = 257;
constexpr double kTimes = 3; // so many times the stated size can be tried

std::vector<Scalar> all_scalars(std::span<const Cause> causes) {
  std::vector<Scalar> scalars;
  for (std::size_t k = 0; k < causes.size(); ++k) {
    scalars.push_back({k, false});
    if (causes[k].distribution.scalars() == 2 || causes[k].field)
      scalars.push_back({k, true});
  }
  return scalars;
}

/// Columns from some samples, checked on all; a sample that does not fit joins the probes.
SharedSensitivities columns_of(std::span<const Cause> causes, std::span<const Scalar> scalars,
                               std::span<const WallSample> samples, const RunContext& run) {
  const std::size_t m = scalars.size();
  std::vector<std::size_t> probes;
  for (std::size_t i = 0; i < samples.size();
       i += std::max<std::size_t>(1, samples.size() / kProbes))
    probes.push_back(i);
  for (;;) {
    std::vector<double> rows(probes.size() * m);
    for (std::size_t i = 0; i < probes.size(); ++i)
      sensitivities_at(causes, scalars, samples[probes[i]], std::span(rows).subspan(i * m, m));
    const SharedSensitivities columns(rows, m);
    std::atomic<std::size_t> misfit{samples.size()};
    for_blocks(samples.size(), kGrain, run, [&](std::size_t begin, std::size_t end) {
      std::vector<double> row(m);
      for (std::size_t i = begin; i < end; ++i) {
        sensitivities_at(causes, scalars, samples[i], row);
        if (columns.fits(row))
          continue;
        std::size_t seen = misfit.load();
        while (i < seen && !misfit.compare_exchange_weak(seen, i)) {
        }
        return;
      }
    });
    if (misfit == samples.size())
      return columns;
    probes.push_back(misfit);
  }
}

PageScalar scalar_of(const SharedSensitivities& columns, std::size_t scalar, std::size_t scalars) {
  std::vector<double> error(scalars, 0.0), sums(columns.count());
  error[scalar] = 1;
  columns.sum(error, sums);
  for (std::size_t j = 0; j < sums.size(); ++j)
    if (sums[j] != 0)
      return {j, sums[j]};
  return {};
}

/// Whether a known shift of this kind has two ways: none sands wood on.
bool two_ways(const CauseId& id) {
  return id.kind != CauseKind::sanding && id.kind != CauseKind::resin_cup;
}

void set_slider(const Cause& cause, bool stated, PageCause& page) {
  if (!stated) {
    page.slider_high = cause.size;
    if (cause.distribution == Distribution::shift && two_ways(cause.id))
      page.slider_low = -cause.size;
  } else if (cause.distribution != Distribution::shift) {
    page.slider_high = kTimes * cause.size;
  } else if (cause.unit.empty()) { // a known shape, from none of it to twice
    page.slider_high = 2 * cause.size;
  } else {
    page.slider_high = kTimes * std::abs(cause.size);
    page.slider_low = two_ways(cause.id) ? -page.slider_high : 0;
  }
}

/// The most that the cause moves the wall when its sensitivity is 1, from 0.
double limit_of(const Cause& cause, double size) {
  return (cause.distribution == Distribution::normal ? kNormalLimit : 1.0) * size;
}

/// Fills what varies over the piece; errors are numbered by cause, then by their own number.
void set_local(std::span<const Cause> causes, std::span<const WallSample> samples,
               PageCauses& out) {
  const LocalErrors all(causes, 0);
  if (all.count() == 0)
    return;
  std::vector<std::uint32_t> number(all.count(), 0);
  out.first_share.push_back(0);
  for (const WallSample& s : samples) {
    all.shares_at(s, out.shares);
    out.first_share.push_back(out.shares.size());
  }
  for (const ErrorShare& s : out.shares)
    number[s.error] = 1;
  std::uint32_t part = 0;
  for (std::uint32_t e = 0; e < number.size(); ++e) {
    const std::size_t k = all.cause_of(e);
    part = e > 0 && all.cause_of(e - 1) == k ? part + 1 : 0;
    if (number[e] == 0)
      continue;
    number[e] = static_cast<std::uint32_t>(out.local.size());
    out.local.push_back({k, part, limit_of(causes[k], out.causes[k].slider_high)});
  }
  for (ErrorShare& s : out.shares)
    s.error = number[s.error];
}

} // namespace

PageCauses page_causes(std::span<const Cause> causes, std::size_t stated,
                       std::span<const WallSample> samples, const RunContext& run) {
  PageCauses out;
  if (causes.empty())
    return out;
  const std::vector<Scalar> scalars = all_scalars(causes);
  const SharedSensitivities columns = columns_of(causes, scalars, samples, run);
  out.causes.resize(causes.size());
  for (std::size_t s = 0; s < scalars.size(); ++s) {
    PageCause& page = out.causes[scalars[s].cause];
    (scalars[s].second ? page.second : page.first) = scalar_of(columns, s, scalars.size());
  }
  out.columns = columns.count();
  out.reach_shift.assign(out.columns, 0.0);
  out.reach_all.assign(out.columns, 0.0);
  for (std::size_t k = 0; k < causes.size(); ++k) {
    PageCause& page = out.causes[k];
    set_slider(causes[k], k < stated, page);
    const double most = limit_of(causes[k], page.slider_high);
    const Distribution d = causes[k].distribution;
    out.reach_all[page.first.column] += std::abs(page.first.factor) * most;
    if (d == Distribution::disc)
      out.reach_all[page.second.column] += std::abs(page.second.factor) * most;
    if (d == Distribution::shift || d == Distribution::half_uniform)
      out.reach_shift[page.first.column] += std::abs(page.first.factor) * most;
  }
  set_local(causes, samples, out);
  out.values.resize(samples.size() * out.columns);
  for_blocks(samples.size(), kGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> row(scalars.size()), reduced(out.columns);
    for (std::size_t i = begin; i < end; ++i) {
      sensitivities_at(causes, scalars, samples[i], row);
      columns.reduce(row, reduced);
      std::transform(reduced.begin(), reduced.end(),
                     out.values.begin() + static_cast<std::ptrdiff_t>(i * out.columns),
                     [](double c) { return static_cast<float>(c); });
    }
  });
  return out;
}

} // namespace leastwall
