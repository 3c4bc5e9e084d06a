# System packages only; DEVELOPERS.md says what each one is for and what it costs.
find_package(Threads REQUIRED)

function(warmsheet_require name version debian)
  find_package(${name} ${version} QUIET ${ARGN})
  if(NOT ${name}_FOUND)
    message(FATAL_ERROR
      "${name} ${version} or newer was not found.\n"
      "  Debian, Ubuntu: apt-get install ${debian}\n"
      "  elsewhere: install it with your package manager, then configure again.\n"
      "  On Debian 'sh examples/quickstart.sh' does this for you.")
  endif()
endfunction()

# Names of the imported targets must outlive the function's scope.
set(CMAKE_FIND_PACKAGE_TARGETS_GLOBAL ON)
warmsheet_require(fmt 9 libfmt-dev CONFIG)
warmsheet_require(CLI11 2.1 libcli11-dev CONFIG)
warmsheet_require(tomlplusplus 3.3 libtomlplusplus-dev CONFIG)
warmsheet_require(nlohmann_json 3.11 nlohmann-json3-dev CONFIG)
warmsheet_require(pugixml 1.13 libpugixml-dev CONFIG)
warmsheet_require(PNG 1.6 libpng-dev)
warmsheet_require(GEOS 3.11 libgeos-dev CONFIG)
warmsheet_require(Boost 1.74 libboost-dev)
warmsheet_require(NLopt 2.7 "libnlopt-dev libnlopt-cxx-dev" CONFIG)

# As the target warmsheet_LIBRARY: what ships no CMake package that works by itself.
function(warmsheet_require_bare library header debian)
  string(TOUPPER ${library} variable)
  find_library(${variable}_LIBRARY ${library})
  find_path(${variable}_INCLUDE_DIR ${header})
  if(NOT ${variable}_LIBRARY OR NOT ${variable}_INCLUDE_DIR)
    message(FATAL_ERROR
      "lib${library} was not found.\n"
      "  Debian, Ubuntu: apt-get install ${debian}\n"
      "  elsewhere: install it with your package manager, then configure again.")
  endif()
  add_library(warmsheet_${library} INTERFACE)
  target_link_libraries(warmsheet_${library} INTERFACE ${${variable}_LIBRARY})
  target_include_directories(warmsheet_${library} SYSTEM INTERFACE ${${variable}_INCLUDE_DIR})
endfunction()
warmsheet_require_bare(hpdf hpdf.h libhpdf-dev)
warmsheet_require_bare(turbojpeg turbojpeg.h libturbojpeg0-dev)  # its package names files of other packages
