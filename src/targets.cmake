# Each flag caught a real mistake in numeric code of this kind; all are errors for our own targets only.
add_library(warmsheet_flags INTERFACE)
target_compile_options(warmsheet_flags INTERFACE
  -Wall -Wextra -Wpedantic -Werror
  -Wconversion -Wsign-conversion -Wdouble-promotion  # silent narrowing of lengths and counts
  -Wshadow -Wold-style-cast -Woverloaded-virtual -Wnon-virtual-dtor
  -Wimplicit-fallthrough -Wformat=2
  # Designated initialisers leave members at their stated defaults on purpose.
  -Wno-missing-field-initializers
  # GCC 12 sees uninitialised members and overlaps inside its own std::string and std::optional (PR 105329).
  $<$<CXX_COMPILER_ID:GNU>:-Wno-maybe-uninitialized -Wno-restrict>
  # Contracting a*b+c differs between machines; results must be the same to the last bit.
  -ffp-contract=off
  # Nobody reads errno after a root; to set it keeps every loop with one from using vectors. Values stay the same.
  -fno-math-errno)
if(WARMSHEET_SANITIZE)
  target_compile_options(warmsheet_flags INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all -g)
  target_link_options(warmsheet_flags INTERFACE -fsanitize=address,undefined)
endif()
if(WARMSHEET_THREAD_SANITIZE)
  target_compile_options(warmsheet_flags INTERFACE -fsanitize=thread -g)
  target_link_options(warmsheet_flags INTERFACE -fsanitize=thread)
endif()
target_include_directories(warmsheet_flags INTERFACE ${PROJECT_SOURCE_DIR}/src)

# warmsheet_room(NAME SOURCES ... ARROWS rooms below ... LINK libraries used inside)
function(warmsheet_room name)
  cmake_parse_arguments(arg "" "" "SOURCES;ARROWS;LINK" ${ARGN})
  add_library(warmsheet_${name} STATIC ${arg_SOURCES})
  list(TRANSFORM arg_ARROWS PREPEND warmsheet_)
  target_link_libraries(warmsheet_${name} PUBLIC ${arg_ARROWS} PRIVATE warmsheet_flags ${arg_LINK})
endfunction()
