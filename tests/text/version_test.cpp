#include "amptally/version.hpp"

#include <string>
#include <typeinfo>

#include <fmt/format.h>

#include "amptally/error.hpp"
#include "amptally/site.hpp"

#include "catch.hpp"

using namespace amptally;

// A program built against one version must not be joined to another whose structs differ: the
// version is part of every name, as it is of the shared library's file name.
TEST_CASE("the names of the library carry its version", "[version]") {
  const std::string version(kVersion);
  const std::size_t minor = version.find('.') + 1;
  const std::string space = fmt::format("v{}_{}", version.substr(0, minor - 1),
                                        version.substr(minor, version.find('.', minor) - minor));
  for (const char* name : {typeid(Site).name(), typeid(InputError).name()}) {
    CAPTURE(name, space);
    CHECK(std::string(name).find(fmt::format("{}{}", space.size(), space)) != std::string::npos);
  }
}
