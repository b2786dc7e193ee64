#include <iostream>

#include "cli/run.hpp"

int main(int argc, char** argv) {
  return amptally::cli::run(argc, argv, std::cin, std::cout, std::cerr,
                            amptally::cli::standard_output());
}
