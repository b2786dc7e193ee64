# amptally_find_package(NAME VERSION DEBIAN): finds a package, or stops and names the Debian package.
#
# A macro: in a function, what a package sets in its caller's scope (Catch2's module path) is lost.
macro(amptally_find_package name version debian)
  find_package(${name} ${version} QUIET)
  if(NOT ${name}_FOUND)
    message(FATAL_ERROR
      "amptally needs ${name} ${version} or later. On Debian: apt-get install ${debian}")
  endif()
endmacro()
