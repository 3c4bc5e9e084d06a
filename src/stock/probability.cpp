// SPDX-License-Identifier: MIT
#include "stock/probability.h"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

namespace warmsheet::stock {
namespace bm = boost::math;

double normal_quantile(double p) {
  return bm::quantile(bm::normal(), p);
}
double student_quantile(double freedom, double p) {
  return bm::quantile(bm::students_t(freedom), p);
}

}  // namespace warmsheet::stock
