// SPDX-License-Identifier: MIT
// What a command needs from the world: the library with its layers, and the ways a document can leave.
#pragma once

#include <ostream>
#include <string>

#include "base/file.h"
#include "cli/arguments.h"
#include "cli/environment.h"
#include "library/library.h"
#include "report/document.h"

namespace warmsheet::cli {

class Session {
 public:
  Session(Environment environment, std::ostream& out, std::ostream& err)
      : environment_(std::move(environment)), out_(out), err_(err) {}

  /// All layers: built in, installed, user, WARMSHEET_LIBRARY, --library, and what is to lie above them.
  [[nodiscard]] library::Library load_library(const Arguments& arguments,
                                              const std::vector<library::LayerFolder>& above = {}) const;

  /// Writes the document as the common options ask (text, --json, --why, --html FILE) and returns the exit
  /// code.
  int deliver(const report::Document& document, const Arguments& arguments);

  /// Writes a drawing or another file and says so on stderr, unless --quiet. Refuses to write over what this
  /// run has read or written.
  void deliver_file(const std::string& path, std::string_view bytes, const Arguments& arguments);

  std::ostream& out() { return out_; }
  std::ostream& err() { return err_; }
  [[nodiscard]] const Environment& environment() const { return environment_; }

 private:
  void explain(const report::Document& document, const std::string& name);

  FileWatch files_;
  Environment environment_;
  std::ostream& out_;
  std::ostream& err_;
};

/// Which library a document rests on.
report::LibraryStamp stamp(const library::Library& library);

}  // namespace warmsheet::cli
