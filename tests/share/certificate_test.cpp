#include "share/certificate.h"

#include <gtest/gtest.h>
#include <openssl/pem.h>
#include <openssl/x509_vfy.h>
#include <openssl/x509v3.h>

#include <memory>

#include "share/support.h"

// Certificates as others see them: judged by OpenSSL's verifier, which shares no code with what makes them.
namespace stillroom::share {
namespace {

struct FreeAll {
  void operator()(X509* p) const { X509_free(p); }
  void operator()(X509_STORE* p) const { X509_STORE_free(p); }
  void operator()(X509_STORE_CTX* p) const { X509_STORE_CTX_free(p); }
  void operator()(BIO* p) const { BIO_free_all(p); }
};
template <class T>
using Own = std::unique_ptr<T, FreeAll>;

Own<X509> parsed(const std::string& pem) {
  const Own<BIO> bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  return Own<X509>(PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr));
}

/// What a client that trusts `authority` says to `leaf` when it asked for `host`: X509_V_OK, or the error.
int verdict(const Signed& authority, const Signed& leaf, const std::string& host, measure::Instant now) {
  const Own<X509> root = parsed(authority.certificate), shown = parsed(leaf.certificate);
  const Own<X509_STORE> store(X509_STORE_new());
  X509_STORE_add_cert(store.get(), root.get());
  const Own<X509_STORE_CTX> context(X509_STORE_CTX_new());
  X509_STORE_CTX_init(context.get(), store.get(), shown.get(), nullptr);
  X509_VERIFY_PARAM* wanted = X509_STORE_CTX_get0_param(context.get());
  X509_VERIFY_PARAM_set_time(wanted, now.time_since_epoch().count());
  X509_VERIFY_PARAM_set_purpose(wanted, X509_PURPOSE_SSL_SERVER);
  X509_VERIFY_PARAM_set_flags(wanted, X509_V_FLAG_X509_STRICT);
  if (X509_VERIFY_PARAM_set1_ip_asc(wanted, host.c_str()) != 1) X509_VERIFY_PARAM_set1_host(wanted, host.c_str(), 0);
  return X509_verify_cert(context.get()) == 1 ? X509_V_OK : X509_STORE_CTX_get_error(context.get());
}

class CertificateTest : public testing::Test {
 protected:
  Signed leaf(const ServerNames& names) { return *make_leaf(authority, names, now, entropy); }

  Entropy entropy = machine_entropy();
  measure::Instant now = moment("2026-09-14T08:00:00Z");
  ServerNames names{{"kitchen.local", "localhost"}, {"192.168.1.5", "fd00::2", "127.0.0.1", "::1"}};
  Signed authority = make_authority("kitchen", now, entropy);
};

TEST_F(CertificateTest, AClientThatTrustsTheAuthorityTakesEveryNameAndAddress) {
  const Signed shown = leaf(names);
  for (const char* host : {"kitchen.local", "localhost", "192.168.1.5", "fd00::2", "127.0.0.1", "::1"})
    EXPECT_EQ(verdict(authority, shown, host, now), X509_V_OK) << host;
}

TEST_F(CertificateTest, ItDoesNotTakeAnotherNameOrAuthority) {
  const Signed shown = leaf(names);
  EXPECT_EQ(verdict(authority, shown, "cellar.local", now), X509_V_ERR_HOSTNAME_MISMATCH);
  EXPECT_EQ(verdict(authority, shown, "192.168.1.6", now), X509_V_ERR_IP_ADDRESS_MISMATCH);
  const Signed other = make_authority("kitchen", now, entropy);
  EXPECT_NE(verdict(other, shown, "kitchen.local", now), X509_V_OK);
}

// The name constraints: what a stolen key of the authority could not do.
TEST_F(CertificateTest, TheAuthorityCannotVouchForTheInternet) {
  EXPECT_EQ(verdict(authority, leaf({{"bank.example"}, {}}), "bank.example", now), X509_V_ERR_PERMITTED_VIOLATION);
  EXPECT_EQ(verdict(authority, leaf({{"local.example"}, {}}), "local.example", now), X509_V_ERR_PERMITTED_VIOLATION);
  for (const char* address : {"203.0.113.7", "172.32.0.1", "192.169.0.1", "11.0.0.1", "2001:db8::1", "fe80::1"}) {
    EXPECT_EQ(verdict(authority, leaf({{"kitchen.local"}, {address}}), address, now), X509_V_ERR_PERMITTED_VIOLATION)
        << address;
  }
  for (const char* address : {"10.255.0.1", "172.16.0.1", "172.31.255.1", "192.168.255.1", "fdff::1"})
    EXPECT_EQ(verdict(authority, leaf({{"kitchen.local"}, {address}}), address, now), X509_V_OK) << address;
}

TEST_F(CertificateTest, ALeafCannotSignFurther) {
  const Signed middle = leaf(names);
  const auto below = make_leaf(middle, names, now, entropy);
  ASSERT_TRUE(below);
  EXPECT_NE(verdict(authority, *below, "kitchen.local", now), X509_V_OK);
  EXPECT_NE(verdict(middle, *below, "kitchen.local", now), X509_V_OK);
  const Own<X509> root = parsed(authority.certificate);
  EXPECT_EQ(X509_get_pathlen(root.get()), 0);
}

TEST_F(CertificateTest, LivesAsLongAsBrowsersTakeAndIsRenewedBefore) {
  const Signed shown = leaf(names);
  EXPECT_EQ(valid_until(shown.certificate) - (now - kBegunBefore), kLeafLasts);
  EXPECT_EQ(valid_until(authority.certificate) - (now - kBegunBefore), kAuthorityLasts);
  const measure::Instant last = valid_until(shown.certificate);
  EXPECT_EQ(verdict(authority, shown, "kitchen.local", last - std::chrono::minutes{1}), X509_V_OK);
  EXPECT_EQ(verdict(authority, shown, "kitchen.local", last + std::chrono::minutes{1}), X509_V_ERR_CERT_HAS_EXPIRED);
  EXPECT_TRUE(still_serves(shown, authority, names, now));
  EXPECT_TRUE(still_serves(shown, authority, names, last - kRenewBefore - std::chrono::minutes{1}));
  EXPECT_FALSE(still_serves(shown, authority, names, last - kRenewBefore));
}

TEST_F(CertificateTest, NoLongerServesUnderOtherNamesKeysOrAuthorities) {
  const Signed shown = leaf(names);
  ServerNames moved = names;
  moved.addresses.front() = "192.168.1.6";
  EXPECT_FALSE(still_serves(shown, authority, moved, now));
  EXPECT_FALSE(still_serves(shown, make_authority("kitchen", now, entropy), names, now));
  EXPECT_FALSE(still_serves({shown.certificate, leaf(names).key}, authority, names, now));
  EXPECT_FALSE(still_serves({"", ""}, authority, names, now));
  EXPECT_FALSE(still_serves({"not a certificate", shown.key}, authority, names, now));
}

TEST_F(CertificateTest, ABrokenAuthorityIsARefusal) {
  EXPECT_TRUE(can_sign(authority));
  const Signed mixed{authority.certificate, make_authority("kitchen", now, entropy).key};
  for (const Signed& broken : {Signed{"", ""}, Signed{authority.certificate, ""}, mixed}) {
    EXPECT_FALSE(can_sign(broken));
    const auto made = make_leaf(broken, names, now, entropy);
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().code, "bad_certificate");
  }
}

TEST_F(CertificateTest, TheFingerprintIsThatOfTheWholeCertificate) {
  const std::string text = fingerprint(authority.certificate);
  EXPECT_EQ(text.size(), 32 * 3 - 1U);
  EXPECT_NE(text, fingerprint(make_authority("kitchen", now, entropy).certificate));
  EXPECT_EQ(fingerprint("nothing"), "");
}

}  // namespace
}  // namespace stillroom::share
