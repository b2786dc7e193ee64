# What an install holds, in two parts: `program` for those who ask, `development` for those who build
# on the library.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

# --- The program, its manual page, its completions, its pages of documentation ---

install(TARGETS amptally_program COMPONENT program)
install(FILES ${PROJECT_BINARY_DIR}/generated/amptally.1
  DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES completions/amptally.bash RENAME amptally
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES completions/_amptally
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT program)
install(FILES completions/amptally.fish
  DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT program)

# The pages point at one another: they lie as they do in the sources.
install(FILES README.md CHANGELOG.md DEVELOPERS.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY docs DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(FILES data/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR}/data COMPONENT program)
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program
  FILES_MATCHING PATTERN *.json PATTERN library/*)

# --- The library, its headers, and what finds them ---

install(TARGETS amptally EXPORT amptallyTargets FILE_SET HEADERS COMPONENT development
  ARCHIVE COMPONENT development
  LIBRARY COMPONENT development)

set(amptally_cmake_dir ${CMAKE_INSTALL_LIBDIR}/cmake/amptally)
install(EXPORT amptallyTargets NAMESPACE amptally:: DESTINATION ${amptally_cmake_dir}
  COMPONENT development)
configure_package_config_file(
  ${CMAKE_CURRENT_LIST_DIR}/amptallyConfig.cmake.in
  ${PROJECT_BINARY_DIR}/amptallyConfig.cmake
  INSTALL_DESTINATION ${amptally_cmake_dir})
# Before 1.0 a minor version may change the interface.
write_basic_package_version_file(
  ${PROJECT_BINARY_DIR}/amptallyConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES
  ${PROJECT_BINARY_DIR}/amptallyConfig.cmake
  ${PROJECT_BINARY_DIR}/amptallyConfigVersion.cmake
  DESTINATION ${amptally_cmake_dir} COMPONENT development)

# Up from the folder of amptally.pc to the prefix: what was installed may be moved as a whole.
file(RELATIVE_PATH amptally_pc_to_prefix
  ${CMAKE_INSTALL_FULL_LIBDIR}/pkgconfig ${CMAKE_INSTALL_PREFIX})
string(REGEX REPLACE "/$" "" amptally_pc_to_prefix "${amptally_pc_to_prefix}")
set(amptally_pc_requires fmt)
if(AMPTALLY_STATIC)
  set(amptally_pc_requires "")
endif()
configure_file(${CMAKE_CURRENT_LIST_DIR}/amptally.pc.in ${PROJECT_BINARY_DIR}/amptally.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/amptally.pc
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT development)

install(DIRECTORY examples/library
  DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/libamptally-dev/examples COMPONENT development)
