// SPDX-License-Identifier: MIT
// The suite may run as root, whom permissions do not bind; so failing writes are made by other means.
#include "base/file.h"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <string>
#include <vector>

#include "base/failing.h"

namespace warmsheet {
namespace {

namespace fs = std::filesystem;
using testing::holds;
using testing::refusal_of;

/// A folder of its own for each case, removed with all in it.
class Scratch {
 public:
  Scratch() {
    std::string name = (fs::temp_directory_path() / "warmsheet-file-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() { fs::remove_all(path_); }
  fs::path operator/(const char* name) const { return path_ / name; }
  [[nodiscard]] std::size_t entries() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
  }

 private:
  fs::path path_;
};

mode_t mode_of(const fs::path& path) {
  struct stat status {};
  REQUIRE(::stat(path.c_str(), &status) == 0);
  return status.st_mode & 0777;
}

Trouble trouble_of_writing(const fs::path& path) {
  try {
    write_file(path, "new");
  } catch (const Failure& failure) {
    return failure.trouble();
  }
  FAIL("the write succeeded");
  return Trouble::usage;
}

/// Lets no file grow beyond a few bytes while it lives: what a full disk does.
class SmallFilesOnly {
 public:
  SmallFilesOnly() {
    ::getrlimit(RLIMIT_FSIZE, &before_);
    handler_ = std::signal(SIGXFSZ, SIG_IGN);
    rlimit small = before_;
    small.rlim_cur = 4096;
    ::setrlimit(RLIMIT_FSIZE, &small);
  }
  SmallFilesOnly(const SmallFilesOnly&) = delete;
  SmallFilesOnly& operator=(const SmallFilesOnly&) = delete;
  ~SmallFilesOnly() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, handler_);
  }

 private:
  rlimit before_{};
  void (*handler_)(int) = nullptr;
};

TEST_SUITE("file") {
  TEST_CASE("a path in a file is taken from the folder of that file") {
    CHECK(beside("jobs/wrist.toml", "wrist.svg") == "jobs/wrist.svg");
    CHECK(beside("wrist.toml", "wrist.svg") == "wrist.svg");
    CHECK(beside("jobs/wrist.toml", "/tmp/wrist.svg") == "/tmp/wrist.svg");
  }

  TEST_CASE("what is written is read back, byte for byte") {
    const Scratch scratch;
    std::string bytes(200000, 'x');
    for (std::size_t i = 0; i < bytes.size(); ++i) bytes[i] = static_cast<char>(i);
    write_file(scratch / "a", bytes);
    CHECK(read_file(scratch / "a") == bytes);
    write_file(scratch / "a", "");
    CHECK(read_file(scratch / "a").empty());
    CHECK(scratch.entries() == 1);
  }

  TEST_CASE("a write that runs out of space leaves the old content and nothing beside it") {
    const Scratch scratch;
    write_file(scratch / "a", "old");
    {
      const SmallFilesOnly limit;
      const std::string seen = refusal_of([&] { write_file(scratch / "a", std::string(100000, 'n')); });
      CHECK(holds(seen, "cannot be written"));
      CHECK(holds(seen, (scratch / "a").string()));
      CHECK(holds(seen, "nothing was changed there"));
      CHECK_FALSE(refusal_of([&] { write_file(scratch / "b", std::string(100000, 'n')); }).empty());
    }
    CHECK(read_file(scratch / "a") == "old");
    CHECK(scratch.entries() == 1);
  }

  TEST_CASE("targets that cannot be written are named, with the right kind of trouble") {
    const Scratch scratch;
    fs::create_directory(scratch / "folder");
    write_file(scratch / "plain", "old");
    fs::create_symlink("loop", scratch / "loop");
    const std::vector<fs::path> targets{
        scratch / "missing/a", scratch / "folder", scratch / "plain/a", scratch / "loop",
        scratch / "folder/",   "/proc/nothing/a",  fs::path(),          "/dev/full"};
    for (const fs::path& target : targets) {
      CAPTURE(target.string());
      CHECK(trouble_of_writing(target) == Trouble::write);
    }
    CHECK(holds(refusal_of([&] { write_file(scratch / "folder", "new"); }), "is a folder"));
    CHECK(holds(refusal_of([&] { write_file("/dev/full", "new"); }), "No space left"));
    CHECK(fs::is_empty(scratch / "folder"));
    CHECK(scratch.entries() == 3);
  }

  TEST_CASE("a device is written, not replaced") {
    write_file("/dev/null", "gone");
    CHECK(fs::is_character_file("/dev/null"));
  }

  TEST_CASE("a link stays a link, and what it points at gets the content") {
    const Scratch scratch;
    fs::create_directory(scratch / "sub");
    write_file(scratch / "sub/target", "old");
    fs::create_symlink("sub/target", scratch / "link");
    fs::create_symlink("link", scratch / "link-to-link");
    write_file(scratch / "link-to-link", "new");
    CHECK(fs::is_symlink(scratch / "link"));
    CHECK(fs::is_symlink(scratch / "link-to-link"));
    CHECK(read_file(scratch / "sub/target") == "new");

    fs::create_symlink("sub/later", scratch / "dangling");
    write_file(scratch / "dangling", "made");
    CHECK(fs::is_symlink(scratch / "dangling"));
    CHECK(read_file(scratch / "sub/later") == "made");

    fs::create_symlink("/dev/full", scratch / "full");
    CHECK(trouble_of_writing(scratch / "full") == Trouble::write);
    CHECK(fs::is_symlink(scratch / "full"));
  }

  TEST_CASE("permissions of an old file are kept, a new one follows the mask") {
    const Scratch scratch;
    write_file(scratch / "private", "old");
    ::chmod((scratch / "private").c_str(), 0600);
    write_file(scratch / "private", "new");
    CHECK(mode_of(scratch / "private") == 0600);
    const mode_t before = ::umask(027);
    write_file(scratch / "fresh", "new");
    ::umask(before);
    CHECK(mode_of(scratch / "fresh") == 0640);
  }

  TEST_CASE("a write-protected file is not replaced") {
    const Scratch scratch;
    write_file(scratch / "a", "old");
    ::chmod((scratch / "a").c_str(), 0444);
    if (::geteuid() == 0) return;  // root is bound by no permission
    CHECK(holds(refusal_of([&] { write_file(scratch / "a", "new"); }), "is write-protected"));
    CHECK(read_file(scratch / "a") == "old");
  }

  TEST_CASE("a name as long as the file system allows can be written") {
    const Scratch scratch;
    const std::string longest(255, 'n');
    write_file(scratch / longest.c_str(), "new");
    CHECK(read_file(scratch / longest.c_str()) == "new");
  }

  TEST_CASE("what a killed run left behind does not stand in the way") {
    const Scratch scratch;
    const std::string left = ".warmsheet-" + std::to_string(::getpid()) + "-0.part";
    write_file(scratch / left.c_str(), "left");
    write_file(scratch / "a", "new");
    CHECK(read_file(scratch / "a") == "new");
    CHECK(read_file(scratch / left.c_str()) == "left");
    CHECK(scratch.entries() == 2);
  }

  TEST_CASE("while a watch lives, what was read or written is known under every name, and nothing else") {
    const Scratch scratch;
    write_file(scratch / "before", "1");
    write_file(scratch / "other", "2");
    {
      const FileWatch watch;
      CHECK_FALSE(watch.knows(scratch / "before"));
      read_file(scratch / "before");
      write_file(scratch / "made", "3");
      fs::create_symlink(scratch / "before", scratch / "link");
      fs::create_hard_link(scratch / "made", scratch / "second-name");
      for (const char* name : {"before", "made", "link", "second-name"}) {
        CAPTURE(name);
        CHECK(watch.knows(scratch / name));
      }
      CHECK_FALSE(watch.knows(scratch / "other"));
      CHECK_FALSE(watch.knows(scratch / "missing"));
      write_file("/dev/null", "4");
      CHECK_FALSE(watch.knows("/dev/null"));
    }
    const FileWatch next;
    CHECK_FALSE(next.knows(scratch / "made"));
  }

  TEST_CASE("files that cannot be read are named, with the right kind of trouble") {
    const Scratch scratch;
    write_file(scratch / "big", std::string(1001, 'x'));
    ::mkfifo((scratch / "pipe").c_str(), 0600);
    const struct {
      fs::path path;
      const char* why;
    } rows[] = {
        {scratch / "missing", "No such file"},
        {fs::path("/dev/full"), "not a regular file"},
        {fs::temp_directory_path(), "is a folder, not a file"},
        {scratch / "big", "larger than 1000 bytes"},
        {scratch / "pipe", "not a regular file"},
        {scratch / "big/a", "Not a directory"},
        {fs::path(), "cannot be opened"},
    };
    for (const auto& row : rows) {
      CAPTURE(row.path.string());
      try {
        read_file(row.path, 1000);
        FAIL_CHECK("it was read");
      } catch (const Failure& failure) {
        CHECK(failure.trouble() == Trouble::data);
        CHECK(holds(failure.what(), row.why));
        CHECK(holds(failure.what(), row.path.string()));
      }
    }
    CHECK(read_file(scratch / "big", 1001).size() == 1001);
  }
}

}  // namespace
}  // namespace warmsheet
