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

# libharu ships neither a CMake package nor a .pc file.
find_library(HPDF_LIBRARY hpdf)
find_path(HPDF_INCLUDE_DIR hpdf.h)
if(NOT HPDF_LIBRARY OR NOT HPDF_INCLUDE_DIR)
  message(FATAL_ERROR "libharu was not found.\n  Debian, Ubuntu: apt-get install libhpdf-dev")
endif()
add_library(warmsheet_hpdf INTERFACE)
target_link_libraries(warmsheet_hpdf INTERFACE ${HPDF_LIBRARY})
target_include_directories(warmsheet_hpdf SYSTEM INTERFACE ${HPDF_INCLUDE_DIR})
