// SPDX-License-Identifier: MIT
#include "stock/probability.h"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/poisson.hpp>
#include <boost/math/distributions/students_t.hpp>

namespace warmsheet::stock {
namespace bm = boost::math;

double normal_density(double z) {
  return bm::pdf(bm::normal(), z);
}
double normal_above(double z) {
  return bm::cdf(bm::complement(bm::normal(), z));
}
double normal_quantile(double p) {
  return bm::quantile(bm::normal(), p);
}
double poisson_probability(double mean, int k) {
  return bm::pdf(bm::poisson(mean), k);
}
double poisson_above(double mean, int k) {
  return bm::cdf(bm::complement(bm::poisson(mean), k));
}

double student_quantile(double freedom, double p) {
  return bm::quantile(bm::students_t(freedom), p);
}

}  // namespace warmsheet::stock
