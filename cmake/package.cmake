# `cpack` makes two Debian packages: amptally, the program, and libamptally-dev, what is needed to
# build on the library. What only a package has is in cmake/debian.
set(AMPTALLY_MAINTAINER "amptally authors <amptally@example.org>" CACHE STRING
  "Who answers for the packages, as Name <address>")

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME amptally)
set(CPACK_PACKAGE_VENDOR "the amptally authors")
set(CPACK_PACKAGE_CONTACT "${AMPTALLY_MAINTAINER}")
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "")  # each package has its own
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_COMPONENTS_ALL program development)

set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME amptally)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION
"power budget of a small off-grid solar installation
Works out, from a short description of a site where a solar panel, a charge
regulator and a battery run pumps, valves and timers that water plants, whether
the sun carries the draw, how many dull days the battery bridges, when it falls
short and by how much, and what would mend it: the year hour by hour, in tables
for people and in JSON or CSV for scripts. Monthly climate tables are included.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libamptally-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libfmt-dev (>= 9)")
set(CPACK_DEBIAN_DEVELOPMENT_DESCRIPTION
"power budget of an off-grid solar installation - library
C++20 headers and static library behind the program amptally: a site as plain
structs in, the balance of its panel, regulator, battery and loads hour by hour
out. With the files for CMake and pkg-config and an example.")

# The licence as a paragraph of a Debian copyright file.
file(READ ${PROJECT_SOURCE_DIR}/LICENSE amptally_licence)
string(REGEX REPLACE "^.*\n\n(Permission)" " \\1" amptally_licence "${amptally_licence}")
string(STRIP "${amptally_licence}" amptally_licence)
string(REPLACE "\n\n" "\n.\n" amptally_licence "${amptally_licence}")
string(REPLACE "\n" "\n " amptally_licence " ${amptally_licence}")

foreach(file changelog.in copyright.in finish.cmake.in)
  string(REPLACE .in "" made ${file})
  configure_file(${CMAKE_CURRENT_LIST_DIR}/debian/${file} ${PROJECT_BINARY_DIR}/debian/${made} @ONLY)
endforeach()
set(CPACK_PRE_BUILD_SCRIPTS ${PROJECT_BINARY_DIR}/debian/finish.cmake)
include(CPack)
