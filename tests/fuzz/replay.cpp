#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <utility>

#include "fuzz/targets.hpp"

/// Tries every input of the corpora on its target: replay FOLDER, with a folder a target in it.
namespace {

namespace fs = std::filesystem;
using namespace amptally::fuzz;

constexpr std::pair<const char*, Target*> kTargets[] = {
    {"site_file", site_file},       {"parts_file", parts_file},
    {"weather_csv", weather_csv},   {"epw", epw},
    {"extremes", extremes},         {"load_line", load_line},
    {"quantity", quantity},         {"setting", setting},
    {"sweep_values", sweep_values}, {"sweep_rows", sweep_rows},
    {"site_struct", site_struct}};

bool passes(Target* target, const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  try {
    target(text, true);
    return true;
  } catch (const std::exception& error) {
    std::cout << file.string() << ": " << error.what() << '\n';
    return false;
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  int faults = 0;
  for (const auto& [name, target] : kTargets) {
    int tried = 0;
    for (const auto& entry : fs::directory_iterator(fs::path(argv[1]) / name)) {
      faults += passes(target, entry.path()) ? 0 : 1;
      ++tried;
    }
    std::cout << name << ": " << tried << " inputs\n";
    if (tried == 0) ++faults;
  }
  return faults == 0 ? 0 : 1;
}
