#include "cli/run.hpp"

#include <exception>
#include <new>
#include <ostream>

#include "amptally/error.hpp"

#include "cli/command_line.hpp"
#include "cli/output.hpp"
#include "cli/site_input.hpp"

namespace amptally::cli {
namespace {

Status run_and_write(int argc, const char* const* argv, const CommandContext& context) {
  const CommandResult result = read_command_line(argc, argv)(context);
  write_result(result.text, result.file, context.out);
  return result.status;
}

Status guarded(int argc, const char* const* argv, const CommandContext& context) {
  std::ostream& err = context.err;
  try {
    return run_and_write(argc, argv, context);
  } catch (const RefusedSite& refused) {
    for (const io::Problem& problem : refused.problems()) print_message(err, to_text(problem));
    return Status::refused;
  } catch (const UsageError& error) {
    print_message(err, error.what());
    return Status::refused;
  } catch (const Error& error) {
    print_message(err, error.what());
    return Status::refused;
  } catch (const OutputError& error) {
    if (!error.is_closed_pipe()) print_message(err, error.what());
    return Status::output_failed;
  } catch (const std::bad_alloc&) {
    print_message(err, "out of memory");
  } catch (const std::exception& error) {
    print_message(err, std::string("a fault of the program itself: ") + error.what());
  }
  return Status::internal;
}

}  // namespace

int run(int argc, const char* const* argv, std::istream& in, std::ostream& out, std::ostream& err,
        const Terminal& terminal) {
  return static_cast<int>(
      guarded(argc, argv, {.in = in, .out = out, .err = err, .terminal = terminal}));
}

}  // namespace amptally::cli
