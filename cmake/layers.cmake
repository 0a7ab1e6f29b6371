# stillroom_layer(NAME [COMPUTES] SOURCES ... USES ... [LIBRARIES ...]): one static library for one folder of src/.
# USES names lower folders; tools/check_layers.py holds the same arrows against the includes. COMPUTES: optimised in
# developer and sanitizer builds too; the others build twice as quickly without.
function(stillroom_layer name)
  cmake_parse_arguments(ARG "COMPUTES" "" "SOURCES;USES;LIBRARIES" ${ARGN})
  add_library(${name} STATIC ${ARG_SOURCES})
  add_library(stillroom::${name} ALIAS ${name})
  target_include_directories(${name} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  stillroom_warnings(${name})
  if(ARG_COMPUTES)
    target_compile_options(${name} PRIVATE $<$<CONFIG:Debug>:-O1>)
  endif()
  foreach(lower ${ARG_USES})
    target_link_libraries(${name} PUBLIC stillroom::${lower})
  endforeach()
  target_link_libraries(${name} PUBLIC ${ARG_LIBRARIES})
endfunction()

function(stillroom_warnings target)
  target_compile_options(${target} PRIVATE
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Wnon-virtual-dtor -Wold-style-cast
    -Wcast-align -Wunused -Woverloaded-virtual -Wno-missing-field-initializers -Wimplicit-fallthrough)
  if(NOT STILLROOM_FUZZ) # built with clang, whose warnings differ
    target_compile_options(${target} PRIVATE -Werror)
  endif()
endfunction()

# stillroom_test(NAME LABEL label SOURCES ... USES ...): one GoogleTest program, its tests labelled for ctest -L.
# The target tests_LABEL builds all programs of a label. STILLROOM_WHOLE_PROGRAMS: ctest runs programs, not single tests
# (with sanitizers a program takes longer to start than most tests to run).
function(stillroom_test name)
  cmake_parse_arguments(ARG "" "LABEL;TIMEOUT" "SOURCES;USES;LIBRARIES" ${ARGN})
  add_executable(${name} ${ARG_SOURCES})
  target_include_directories(${name} PRIVATE ${PROJECT_SOURCE_DIR}/src ${PROJECT_SOURCE_DIR}/tests)
  stillroom_warnings(${name})
  target_compile_options(${name} PRIVATE -Wno-shadow) # GoogleTest macros
  foreach(lower ${ARG_USES})
    target_link_libraries(${name} PRIVATE stillroom::${lower})
  endforeach()
  target_link_libraries(${name} PRIVATE ${ARG_LIBRARIES} GTest::gmock GTest::gtest_main)
  target_compile_definitions(${name} PRIVATE STILLROOM_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  if(NOT ARG_TIMEOUT)
    set(ARG_TIMEOUT 300)
  endif()
  foreach(label ${ARG_LABEL})
    if(NOT TARGET tests_${label})
      add_custom_target(tests_${label})
    endif()
    add_dependencies(tests_${label} ${name})
  endforeach()
  if(STILLROOM_WHOLE_PROGRAMS)
    add_test(NAME ${name} COMMAND ${name} --gtest_brief=1)
    set_tests_properties(${name} PROPERTIES LABELS ${ARG_LABEL} TIMEOUT 900)
  else()
    gtest_discover_tests(${name} DISCOVERY_TIMEOUT 60 PROPERTIES LABELS ${ARG_LABEL} TIMEOUT ${ARG_TIMEOUT})
  endif()
endfunction()
