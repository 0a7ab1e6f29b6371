# stillroom_embed(TARGET DIRECTORY FILES...): compiles the named files of DIRECTORY into TARGET, each as the assembler's
# .incbin, with a table of names that embedded_file() searches. No copy of the data is made and nothing is read at run time.
function(stillroom_embed target directory)
  set(assembly "")
  set(externs "")
  set(entries "")
  set(depends "")
  set(n 0)
  foreach(file ${ARGN})
    set(path "${directory}/${file}")
    if(NOT EXISTS "${path}")
      message(FATAL_ERROR "data file ${file} is listed but is not there")
    endif()
    string(APPEND assembly ".global stillroom_data_${n}\nstillroom_data_${n}:\n.incbin \"${path}\"\n"
      ".global stillroom_data_${n}_end\nstillroom_data_${n}_end:\n.byte 0\n")
    string(APPEND externs "extern const char stillroom_data_${n}[];\nextern const char stillroom_data_${n}_end[];\n")
    string(APPEND entries "    {\"${file}\", stillroom_data_${n}, stillroom_data_${n}_end},\n")
    list(APPEND depends "${path}")
    math(EXPR n "${n} + 1")
  endforeach()
  set(out "${CMAKE_CURRENT_BINARY_DIR}/embedded")
  file(CONFIGURE OUTPUT "${out}.S" CONTENT
    ".section .rodata\n${assembly}\n.section .note.GNU-stack,\"\",%progbits\n" @ONLY)
  file(CONFIGURE OUTPUT "${out}.cpp" CONTENT
"// Made by embed.cmake.
#include <array>
#include \"almanac/csv.h\"
extern \"C\" {
${externs}}
namespace stillroom::almanac {
namespace {
struct EmbeddedEntry { std::string_view path; const char* begin; const char* end; };
constexpr std::array<EmbeddedEntry, ${n}> kEmbeddedEntries{{
${entries}}};
}
std::string_view embedded_file(std::string_view path) {
  for (const auto& e : kEmbeddedEntries) {
    if (e.path == path) return {e.begin, static_cast<std::size_t>(e.end - e.begin)};
  }
  return {};
}
}
" @ONLY)
  set_source_files_properties("${out}.S" PROPERTIES OBJECT_DEPENDS "${depends}")
  target_sources(${target} PRIVATE "${out}.S" "${out}.cpp")
endfunction()
