# The program, the library with its headers, and what `find_package(amptally)` needs.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

install(TARGETS amptally_program)
install(TARGETS amptally EXPORT amptallyTargets FILE_SET HEADERS)

set(amptally_cmake_dir ${CMAKE_INSTALL_LIBDIR}/cmake/amptally)
install(EXPORT amptallyTargets NAMESPACE amptally:: DESTINATION ${amptally_cmake_dir})
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
  DESTINATION ${amptally_cmake_dir})
