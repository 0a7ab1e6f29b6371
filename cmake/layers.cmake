# stillroom_layer(NAME SOURCES ... USES ... [LIBRARIES ...]): one static library for one folder of src/.
# USES names lower folders; tools/check_layers.py holds the same arrows against the includes.
function(stillroom_layer name)
  cmake_parse_arguments(ARG "" "" "SOURCES;USES;LIBRARIES" ${ARGN})
  add_library(${name} STATIC ${ARG_SOURCES})
  add_library(stillroom::${name} ALIAS ${name})
  target_include_directories(${name} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  stillroom_warnings(${name})
  foreach(lower ${ARG_USES})
    target_link_libraries(${name} PUBLIC stillroom::${lower})
  endforeach()
  target_link_libraries(${name} PUBLIC ${ARG_LIBRARIES})
endfunction()

function(stillroom_warnings target)
  target_compile_options(${target} PRIVATE
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Wnon-virtual-dtor -Wold-style-cast
    -Wcast-align -Wunused -Woverloaded-virtual -Wno-missing-field-initializers -Wnull-dereference -Wimplicit-fallthrough)
  if(NOT STILLROOM_FUZZ) # built with clang, whose warnings differ
    target_compile_options(${target} PRIVATE -Werror)
  endif()
endfunction()

# stillroom_test(NAME LABEL label SOURCES ... USES ...): one GoogleTest program, its tests labelled for ctest -L.
# The target tests_LABEL builds all programs of a label.
function(stillroom_test name)
  cmake_parse_arguments(ARG "" "LABEL;TIMEOUT" "SOURCES;USES;LIBRARIES" ${ARGN})
  add_executable(${name} ${ARG_SOURCES})
  target_include_directories(${name} PRIVATE ${PROJECT_SOURCE_DIR}/src ${PROJECT_SOURCE_DIR}/tests)
  stillroom_warnings(${name})
  target_compile_options(${name} PRIVATE -Wno-null-dereference -Wno-shadow) # GoogleTest macros
  foreach(lower ${ARG_USES})
    target_link_libraries(${name} PRIVATE stillroom::${lower})
  endforeach()
  target_link_libraries(${name} PRIVATE ${ARG_LIBRARIES} GTest::gmock GTest::gtest_main)
  target_compile_definitions(${name} PRIVATE STILLROOM_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  if(NOT ARG_TIMEOUT)
    set(ARG_TIMEOUT 300)
  endif()
  set_target_properties(${name} PROPERTIES UNITY_BUILD OFF) # helpers of two test files may share a name
  foreach(label ${ARG_LABEL})
    if(NOT TARGET tests_${label})
      add_custom_target(tests_${label})
    endif()
    add_dependencies(tests_${label} ${name})
  endforeach()
  gtest_discover_tests(${name} DISCOVERY_TIMEOUT 60 PROPERTIES LABELS ${ARG_LABEL} TIMEOUT ${ARG_TIMEOUT})
endfunction()
