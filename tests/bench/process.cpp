#include "process.hpp"

#include <array>
#include <spawn.h>
#include <stdexcept>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "shortest.hpp"

namespace amptally::bench {
namespace {

std::string read_to_end(int from) {
  std::string text;
  std::array<char, 4096> buffer;
  ssize_t n = 0;
  while ((n = read(from, buffer.data(), buffer.size())) > 0) {
    text.append(buffer.data(), static_cast<std::size_t>(n));
  }
  return text;
}

std::array<int, 2> open_pipe() {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) throw std::runtime_error("no pipe");
  return ends;
}

}  // namespace

std::string run_program(const std::vector<std::string>& arguments) {
  std::vector<std::string> words = arguments;
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  const auto [reading, writing] = open_pipe();
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, writing, STDOUT_FILENO);
  posix_spawn_file_actions_addclose(&actions, reading);
  posix_spawn_file_actions_addclose(&actions, writing);
  pid_t child = 0;
  const int failed = posix_spawnp(&child, argv[0], &actions, nullptr, argv.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  close(writing);
  const std::string text = failed ? "" : read_to_end(reading);
  close(reading);
  int status = -1;
  if (failed || waitpid(child, &status, 0) != child || status != 0) {
    throw std::runtime_error(arguments.front() + " failed");
  }
  return text;
}

OwnProcess in_own_process(const std::function<void()>& action) {
  const auto [reading, writing] = open_pipe();
  const pid_t child = fork();
  if (child == 0) {
    const double ms = time_ms(action);
    _exit(write(writing, &ms, sizeof ms) == sizeof ms ? 0 : 1);
  }
  close(writing);
  OwnProcess result;
  const bool told = child > 0 && read(reading, &result.ms, sizeof result.ms) == sizeof result.ms;
  close(reading);
  rusage used{};
  int status = -1;
  if (child <= 0 || wait4(child, &status, 0, &used) != child || status != 0 || !told) {
    throw std::runtime_error("a process of its own failed");
  }
  result.peak_kib = used.ru_maxrss;
  return result;
}

}  // namespace amptally::bench
