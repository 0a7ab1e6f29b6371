# STILLROOM_FUZZ: everything is built so that libFuzzer sees its branches, with the address and undefined behaviour
# sanitizers. Included before src/, so that the layers get the flags too.
if(STILLROOM_FUZZ)
  if(NOT CMAKE_CXX_COMPILER_ID MATCHES "Clang")
    message(FATAL_ERROR "STILLROOM_FUZZ needs clang: add -DCMAKE_C_COMPILER=clang-16 -DCMAKE_CXX_COMPILER=clang++-16")
  endif()
  add_compile_options(-g -O1 -fno-omit-frame-pointer -fsanitize=fuzzer-no-link,address,undefined
    -fno-sanitize-recover=undefined)
  add_link_options(-fsanitize=address,undefined)
endif()
