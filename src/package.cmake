# What is installed beside the program and its library, and how it becomes a package:
#   cmake --build build && cd build && cpack            (tests/package.sh does it and tries the result)
# The names follow the Filesystem Hierarchy Standard 3.0 and Debian Policy 4.6, 12.1, 12.5 and 12.7.
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})

file(STRINGS LICENSE licence_lines)
list(FILTER licence_lines INCLUDE REGEX "^Copyright ")
string(REGEX REPLACE "^Copyright (\\(c\\) )?" "" copyright_holder "${licence_lines}")
file(READ LICENSE licence_text)
string(REGEX REPLACE "^.*(Permission is hereby)" "\\1" licence_text "${licence_text}")
string(REGEX REPLACE "\n\n" "\n.\n" licence_text "${licence_text}")
string(STRIP "${licence_text}" licence_text)
string(REGEX REPLACE "\n" "\n " licence_text " ${licence_text}")
configure_file(src/package/copyright.in copyright @ONLY)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})

# -n: no time and no name inside, so that the same text makes the same bytes.
find_program(GZIP gzip REQUIRED)
add_custom_command(OUTPUT changelog.gz
  COMMAND ${GZIP} -9nc ${CMAKE_CURRENT_SOURCE_DIR}/src/package/changelog > changelog.gz
  DEPENDS src/package/changelog VERBATIM)
add_custom_target(warmsheet_changelog ALL DEPENDS changelog.gz)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/changelog.gz DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VENDOR "warmsheet contributors")
set(CPACK_PACKAGE_CONTACT "warmsheet contributors <warmsheet@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "planner for custom orthoses of low-temperature thermoplastic sheet")
set(CPACK_PACKAGE_DESCRIPTION
  "Works out outlines, cut lists, water-bath and working times, skin\n"
  "temperature, cost and cautions for custom orthoses formed from\n"
  "low-temperature thermoplastic sheet. Every figure says where it comes from.\n"
  "It supports, and never replaces, the prescription, a hand test and licensed\n"
  "practice.")
string(JOIN "" CPACK_PACKAGE_DESCRIPTION ${CPACK_PACKAGE_DESCRIPTION})
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SUGGESTS bash-completion)
include(CPack)
