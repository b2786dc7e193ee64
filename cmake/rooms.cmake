# The rooms of src/, each a target. Those of numbers, from text to answers, are parts of the library
# `amptally`; the others are libraries of the program's own.
#
# With AMPTALLY_UNITY a room is compiled as one file: in a quarter of the time, to the same program.
# Without, each source has to include what it uses.
option(AMPTALLY_UNITY "Compile each room as one file" ON)

# amptally_room(NAME [HEADERS public.hpp ...] SOURCES file.cpp ...): a room of the library.
function(amptally_room name)
  cmake_parse_arguments(room "" "" "HEADERS;SOURCES" ${ARGN})
  set(target amptally_${name})
  add_library(${target} OBJECT ${room_SOURCES})
  target_compile_features(${target} PUBLIC cxx_std_20)
  target_include_directories(${target} PRIVATE
    ${PROJECT_SOURCE_DIR}/include ${PROJECT_SOURCE_DIR}/src ${PROJECT_BINARY_DIR}/generated)
  target_link_libraries(${target} PRIVATE amptally_flags ${amptally_fmt} Threads::Threads)
  set_target_properties(${target} PROPERTIES
    POSITION_INDEPENDENT_CODE "${BUILD_SHARED_LIBS}"
    UNITY_BUILD ${AMPTALLY_UNITY}
    UNITY_BUILD_BATCH_SIZE 0)
  target_sources(amptally PRIVATE $<TARGET_OBJECTS:${target}>)
  list(TRANSFORM room_HEADERS PREPEND ${PROJECT_SOURCE_DIR}/include/amptally/)
  target_sources(amptally PUBLIC FILE_SET HEADERS FILES ${room_HEADERS})
  set_property(GLOBAL APPEND PROPERTY amptally_rooms ${target})
endfunction()

# amptally_program_room(NAME SOURCES file.cpp ...): a room of the program.
function(amptally_program_room name)
  cmake_parse_arguments(room "" "" "SOURCES" ${ARGN})
  set(target amptally_${name})
  add_library(${target} STATIC ${room_SOURCES})
  target_include_directories(${target} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  target_link_libraries(${target} PRIVATE amptally_flags ${amptally_fmt})
  set_target_properties(${target} PROPERTIES
    UNITY_BUILD ${AMPTALLY_UNITY}
    UNITY_BUILD_BATCH_SIZE 0)
  set_property(GLOBAL APPEND PROPERTY amptally_rooms ${target})
endfunction()
