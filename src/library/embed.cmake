# cmake -DMATERIALS=folder -DOUTPUT=file.cpp -P embed.cmake: writes every .toml below the folder as a raw string.
file(GLOB_RECURSE names RELATIVE ${MATERIALS} ${MATERIALS}/*.toml)
list(SORT names)
set(entries "")
foreach(name IN LISTS names)
  file(READ ${MATERIALS}/${name} text)
  string(FIND "${text}" ")~toml~\"" clash)
  if(NOT clash EQUAL -1)
    message(FATAL_ERROR "${name} contains the closing mark of the raw string it is embedded in")
  endif()
  string(APPEND entries "    {\"materials/${name}\", R\"~toml~(${text})~toml~\"},\n")
endforeach()
file(WRITE ${OUTPUT} "// Generated from materials/ by src/library/embed.cmake.
#include \"library/built_in.h\"

namespace warmsheet::library {

const std::vector<BuiltInFile>& built_in_files() {
  static const std::vector<BuiltInFile> files{
${entries}  };
  return files;
}

}  // namespace warmsheet::library
")
