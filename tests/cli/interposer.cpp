// SPDX-License-Identifier: MIT
// Laid under the program (LD_PRELOAD) by environment.sh to make two rare moments certain: ctrl-C while a file
// is being written, and another program that writes to a file while it is read.
#include <dlfcn.h>
#include <fcntl.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>

namespace {

template <class Function>
Function* real(const char* name) {
  return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, name));
}

void append_to(const char* path) {
  const int file = ::open(path, O_WRONLY | O_APPEND);
  static_cast<void>(!::write(file, "\n", 1));
  ::close(file);
}

}  // namespace

extern "C" int fsync(int file) {
  if (std::getenv("INTERRUPT_AT_FSYNC") != nullptr) static_cast<void>(std::raise(SIGINT));
  return real<int(int)>("fsync")(file);
}

extern "C" ssize_t read(int file, void* buffer, std::size_t size) {
  static bool done = false;
  const char* path = std::getenv("APPEND_AT_READ");
  if (path != nullptr && !done) {
    done = true;
    append_to(path);
  }
  return real<ssize_t(int, void*, std::size_t)>("read")(file, buffer, size);
}
