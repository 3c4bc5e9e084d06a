// SPDX-License-Identifier: MIT
// What went wrong, where, and what to do: the one way a room reports that it cannot go on.
#pragma once

#include <exception>
#include <string>
#include <string_view>
#include <vector>

namespace warmsheet {

/// Decides the exit code, in one place (`exit_code`).
enum class Trouble {
  no_answer,  ///< the question was sound and the answer is "no" (1)
  usage,      ///< the command line cannot be understood (2)
  data,       ///< a file or a value in it is wrong (3)
  write,      ///< a result could not be written (4)
  stopped,  ///< by the user, before there was an answer (130: 128 and the signal's number, as shells have it)
};

int exit_code(Trouble trouble);

/// A place in a file or on the command line. `line` and `column` count from 1; 0 means "not known".
struct Place {
  std::string file;
  int line = 0;
  int column = 0;

  /// "file:line:col", or "line 3, column 4" without a file, as far as known; empty if nothing is.
  [[nodiscard]] std::string text() const;
};

/// One thing that is wrong. `message` says what was seen and what is allowed, `hint` what to do next.
struct Problem {
  Trouble trouble = Trouble::data;
  Place place;
  std::string message;
  std::string hint;

  /// "place: message" and, on a second line, the hint. Names of files and keys come from outside, so nothing
  /// in it can steer a terminal.
  [[nodiscard]] std::string text() const;
};

/// Thrown by every room below cli/. Readers catch it to go on to the next problem; cli/run.cpp prints it.
class Failure : public std::exception {
 public:
  explicit Failure(Problem problem);
  /// \pre at least one problem
  explicit Failure(std::vector<Problem> problems);

  [[nodiscard]] const std::vector<Problem>& problems() const { return problems_; }
  /// Of the first problem.
  [[nodiscard]] Trouble trouble() const { return problems_.front().trouble; }
  [[nodiscard]] const char* what() const noexcept override { return what_.c_str(); }

 private:
  std::vector<Problem> problems_;
  std::string what_;
};

/// Collects problems so that a file is reported whole, not one slip at a time.
class Problems {
 public:
  /// The same message at the same place is kept once.
  void add(Place place, std::string message, std::string hint = {});
  [[nodiscard]] bool empty() const { return problems_.empty(); }
  [[nodiscard]] const std::vector<Problem>& list() const { return problems_; }
  /// Throws a Failure with all of them if there is any.
  void throw_if_any() const;
  /// Files those of a failed step: what has no line gets this place, the key that led there, and says in
  /// words which file it means.
  void add_all(const Failure& failure, const Place& led_there);

 private:
  std::vector<Problem> problems_;
};

/// Runs a step that throws, and goes on with its problems filed.
template <class Step>
void collecting(Problems& problems, const Place& led_there, Step step) {
  try {
    step();
  } catch (const Failure& failure) {
    problems.add_all(failure, led_there);
  }
}

}  // namespace warmsheet
