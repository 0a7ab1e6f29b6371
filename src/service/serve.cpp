#include "service/serve.h"

#include <httplib.h>

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <csignal>
#include <cstdio>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

#include "service/detail/http.h"
#include "service/detail/secure.h"
#include "service/service.h"

namespace stillroom::service {
namespace {

constexpr int kPortsTried = 20;
constexpr const char* kLoopback = "127.0.0.1";

sigset_t ending_signals() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGTERM);
  sigaddset(&set, SIGINT);
  return set;
}

/// Blocks the ending signals while it lives, in this thread and in those begun meanwhile, so that one thread can wait
/// for them.
class SignalsHeld {
 public:
  SignalsHeld() : set_(ending_signals()) { pthread_sigmask(SIG_BLOCK, &set_, &before_); }
  ~SignalsHeld() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  SignalsHeld(const SignalsHeld&) = delete;
  SignalsHeld& operator=(const SignalsHeld&) = delete;

 private:
  sigset_t set_;
  sigset_t before_{};
};

int first_free_port(httplib::Server& server, int wanted) {
  for (int port = wanted; port < wanted + kPortsTried && port <= 65535; ++port) {
    if (server.bind_to_port(kLoopback, port)) return port;
  }
  return 0;
}

/// Every way in, each listening on a thread of its own but the first.
class Doors {
 public:
  explicit Doors(Service& service) : service_(service) {}

  httplib::Server& add(std::unique_ptr<httplib::Server> server, Door door) {
    detail::connect(*server, service_, door);
    servers_.push_back(std::move(server));
    return *servers_.back();
  }
  /// Adds one for the home network; false when its port is taken.
  bool add_home(std::unique_ptr<httplib::Server> server, Door door, int port) {
    httplib::Server& added = add(std::move(server), door);
    return added.bind_to_port("::", port) || added.bind_to_port("0.0.0.0", port);
  }
  /// Until close().
  void listen() {
    std::vector<std::thread> others;
    for (std::size_t i = 1; i < servers_.size(); ++i)
      others.emplace_back([server = servers_[i].get()] { server->listen_after_bind(); });
    servers_.front()->listen_after_bind();
    for (std::thread& other : others) other.join();
    closed_ = true;
  }
  void close() {
    for (const auto& server : servers_) {
      // A server that does not listen yet cannot be stopped.
      while (!closed_ && !server->is_running()) std::this_thread::sleep_for(std::chrono::milliseconds(5));
      if (!closed_) server->stop();
    }
  }

 private:
  Service& service_;
  std::vector<std::unique_ptr<httplib::Server>> servers_;
  std::atomic<bool> closed_ = false;
};

/// Looks now and then whether the certificate must be renewed: before it ends, or because the machine has another
/// address.
class Renewing {
 public:
  static constexpr std::chrono::seconds kEvery{30};

  explicit Renewing(share::Share* share) {
    if (share == nullptr) return;
    thread_ = std::jthread([this, share](const std::stop_token& stop) {
      std::unique_lock lock(mutex_);
      while (!wake_.wait_for(lock, stop, kEvery, [&stop] { return stop.stop_requested(); })) {
        if (const auto renewed = share->renew(); !renewed)
          std::fprintf(stderr, "The certificate was not renewed. %s\n", renewed.error().message.c_str());
      }
    });
  }

 private:
  std::mutex mutex_;
  std::condition_variable_any wake_;
  std::jthread thread_;
};

measure::Instant machine_now() { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); }

void print_addresses(int port, const share::Share* share) {
  std::printf("Stillroom is open at http://localhost:%d/\n", port);
  if (share != nullptr) {
    std::printf("On your home network, for devices that you pair (http://localhost:%d/devices shows how):\n", port);
    const auto hosts = share->host_names();
    for (const std::string& host : hosts) std::printf("  https://%s:%d/\n", host.c_str(), share->secure_port());
    if (share->plain_port() != 0) {
      std::printf("  http://%s:%d/   without TLS: as long as the page is open, and nothing offline\n",
                  (hosts.size() > 1 ? hosts[1] : hosts.front()).c_str(), share->plain_port());
    }
    if (hosts.size() == 1)
      std::printf("This machine has no address of a home network just now; it is looked for every half minute.\n");
  }
  std::printf("Press Ctrl-C to close it.\n");
  std::fflush(stdout);
}

measure::Result<void> no_home_port(int port) {
  return measure::refuse(
      "no_port", "Port " + std::to_string(port) + " is taken; phones know the household by it.",
      {"Close what uses it (another Stillroom?), or choose another with --share-port or --plain-port: "
       "phones must then be paired anew."});
}

}  // namespace

measure::Result<void> serve(app::House& house, const ServeOptions& options) {
  const SignalsHeld held;
  Service service(house, options.clock ? options.clock : machine_now, options.plan_seconds, options.share);
  Doors doors(service);
  const int port = first_free_port(doors.add(std::make_unique<httplib::Server>(), Door::loopback), options.port);
  if (port == 0) {
    return measure::refuse("no_port", "No free port was found from " + std::to_string(options.port) + " on.",
                           {"Choose another with --port."});
  }
  if (share::Share* share = options.share; share != nullptr) {
    if (!doors.add_home(detail::secure_server(*share), Door::secure, share->secure_port()))
      return no_home_port(share->secure_port());
    if (share->plain_port() != 0 &&
        !doors.add_home(std::make_unique<httplib::Server>(), Door::plain, share->plain_port()))
      return no_home_port(share->plain_port());
  }
  service.planner.start();
  const Renewing renewing(options.share);
  std::thread ending([&] {
    const sigset_t set = ending_signals();
    int signal = 0;
    sigwait(&set, &signal);
    service.events.stop();
    doors.close();
  });
  const auto end = [&] { pthread_kill(ending.native_handle(), SIGINT); };
  {
    const std::stop_callback asked(options.stop, end);
    if (options.listening) {
      options.listening(port);
    } else {
      print_addresses(port, options.share);
    }
    doors.listen();
  }
  end();  // in case the listening ended by itself
  ending.join();
  service.events.stop();
  service.planner.stop();
  return {};
}

}  // namespace stillroom::service
