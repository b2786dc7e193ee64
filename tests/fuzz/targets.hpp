#pragma once

#include <string_view>

/// Everything that reads what a person wrote, and the library as a program calls it, tried with any
/// bytes whatever: either the reader takes them, and then certain things hold, or it throws
/// `amptally::Error` with a message of one line.
namespace amptally::fuzz {

/// Tries one input.
///
/// @param text      any bytes
/// @param thorough  whether what follows from an accepted input is looked at too, where that takes
///   long: a year of balance, say
/// @throws std::exception, other than `Error`: a fault of the program, to be mended
using Target = void(std::string_view text, bool thorough);

Target site_file;
Target parts_file;
Target weather_csv;  ///< the first lines of a table; plain rows follow to the end of the year
Target epw;          ///< likewise
Target extremes;     ///< figures of a good site at the ends of their ranges, by pairs of bytes
Target load_line;
Target quantity;
Target setting;       ///< of a good site; one a line
Target sweep_values;  ///< `--vary PATH=VALUES`
Target sweep_rows;    ///< `--from FILE`
Target site_struct;   ///< members of a site that no reader has looked at, by pairs of bytes

}  // namespace amptally::fuzz
