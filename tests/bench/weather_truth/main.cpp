// How close twelve monthly means come to whole years by the hour and to measured runs of years.
// Run:
//   weather_truth FILE... [--misses] [--threads N]
//   weather_truth FILE... --page docs/weather.md [--check]
// The first prints what is aimed at, a line each, and with --misses where that is not met. The
// second writes the figures of that page between its marks; with --check it only says whether they
// are those.
#include <fstream>
#include <iostream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "misses.hpp"
#include "page.hpp"
#include "results.hpp"
#include "sitefile/file_text.hpp"
#include "verdict.hpp"

namespace {

using namespace weather_truth;

struct Options {
  std::vector<std::string> files;
  bool misses = false;
  std::string page;  // to write the figures into
  bool check = false;
  int threads = 2;
};

Options options_of(int argc, char** argv) {
  Options options;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    const auto value = [&] {
      if (++i >= argc) throw std::runtime_error(word + " needs a value");
      return std::string(argv[i]);
    };
    if (word == "--misses") {
      options.misses = true;
    } else if (word == "--page") {
      options.page = value();
    } else if (word == "--check") {
      options.check = true;
    } else if (word == "--threads") {
      const std::string threads = value();
      if (threads.size() != 1 || threads[0] < '1' || threads[0] > '9') {
        throw std::runtime_error("--threads " + threads + " is not in 1..9");
      }
      options.threads = threads[0] - '0';
    } else if (word.starts_with("-")) {
      throw std::runtime_error("unknown option " + word);
    } else {
      options.files.push_back(word);
    }
  }
  if (options.files.empty()) throw std::runtime_error("no file given");
  return options;
}

// The first line that is another, as it is and as it should be.
std::string first_difference(const std::string& old, const std::string& page) {
  std::istringstream is(old);
  std::istringstream should_be(page);
  std::string one;
  std::string other;
  // Until one ends: the longer one's next line is then the difference.
  while (one == other && (is || should_be)) {
    if (!std::getline(is, one)) one.clear();
    if (!std::getline(should_be, other)) other.clear();
  }
  return "is:        " + one + "\nshould be: " + other + "\n";
}

// 0 where the page is as it should be, or has been written.
int write_page(const Options& options, const Results& results) {
  const std::string old =
      amptally::io::read_file(options.page, std::cin, amptally::io::kMaxFileBytes);
  const std::string page = with_figures(old, results);
  if (page == old) return 0;
  if (options.check) {
    std::cerr << options.page << ": figures are not those of today (see tests/weather_page.sh)\n"
              << first_difference(old, page);
    return 1;
  }
  std::ofstream(options.page, std::ios::binary) << page;
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    const Options options = options_of(argc, argv);
    const std::vector<Station> stations = read_stations(options.files);
    const Results results = compare(stations, options.threads);
    if (!options.page.empty()) return write_page(options, results);
    std::cout << verdict_text(results);
    if (options.misses) std::cout << '\n' << misses_text(results);
    return 0;
  } catch (const std::exception& e) {
    std::cerr << "weather_truth: " << e.what() << '\n';
    return 2;
  }
}
