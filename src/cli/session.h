// SPDX-License-Identifier: MIT
// What a command needs from the world: the library with its layers, and the ways a document can leave.
#pragma once

#include <ostream>
#include <string>
#include <vector>

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

  /// A drawing or another file beside the document. It is written by `deliver`, when all that may be refused
  /// was looked at, and said on stderr, unless --quiet. Refuses to write over what this run has read or will
  /// write.
  void deliver_file(const std::string& path, std::string bytes, const Arguments& arguments);

  /// A file of the user's library, which this run may have read: otherwise the same, and nothing is said of
  /// it.
  void replace_file(const std::string& path, std::string bytes);

  /// Writes the files, then the document as the common options ask (text, --json, --why, --html FILE), and
  /// returns the exit code.
  int deliver(const report::Document& document, const Arguments& arguments);

  std::ostream& out() { return out_; }
  std::ostream& err() { return err_; }
  [[nodiscard]] const Environment& environment() const { return environment_; }

 private:
  struct Pending {
    std::string path;
    std::string bytes;
    bool replaces;  ///< one that was read
    bool told;      ///< on stderr
  };

  void require_free(const std::string& path) const;
  void write_pending();

  FileWatch files_;
  std::vector<Pending> pending_;
  Environment environment_;
  std::ostream& out_;
  std::ostream& err_;
};

/// Which library a document rests on.
report::LibraryStamp stamp(const library::Library& library);

}  // namespace warmsheet::cli
