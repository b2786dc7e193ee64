// write_manual DATE: prints the manual page of the program that is being built.
#include <iostream>

#include "cli/manual.hpp"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  std::cout << amptally::cli::manual_page(argv[1]) << std::flush;
  return std::cout ? 0 : 1;
}
