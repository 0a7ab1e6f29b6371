#include "share/certificate.h"

#include <openssl/bn.h>
#include <openssl/ec.h>
#include <openssl/pem.h>
#include <openssl/x509v3.h>

#include <array>
#include <ctime>
#include <stdexcept>

#include "share/detail/openssl.h"

namespace stillroom::share {
namespace {

using detail::BioPtr;
using detail::CertificatePtr;
using detail::ExtensionPtr;
using detail::KeyPtr;

/// What may be signed: RFC 6761 and 6762 names, RFC 1918 and 4193 addresses, and this machine.
constexpr const char* kConstraints =
    "critical,permitted;DNS:local,permitted;DNS:localhost,permitted;IP:10.0.0.0/255.0.0.0,"
    "permitted;IP:172.16.0.0/255.240.0.0,permitted;IP:192.168.0.0/255.255.0.0,permitted;IP:127.0.0.0/255.0.0.0,"
    "permitted;IP:fc00::/fe00::,permitted;IP:::1/ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff";

/// Only memory can be short here; what comes from files is checked before.
void must(bool done, const char* what) {
  if (!done) throw std::runtime_error(std::string("OpenSSL: ") + what);
}

BioPtr reading(const std::string& pem) { return BioPtr(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size()))); }

CertificatePtr certificate_in(const std::string& pem) {
  const BioPtr bio = reading(pem);
  return CertificatePtr(PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr));
}

KeyPtr key_in(const std::string& pem) {
  const BioPtr bio = reading(pem);
  return KeyPtr(PEM_read_bio_PrivateKey(bio.get(), nullptr, nullptr, nullptr));
}

std::string text_of(BIO* bio) {
  char* data = nullptr;
  const auto size = BIO_get_mem_data(bio, &data);
  return {data, static_cast<std::size_t>(size)};
}

Signed as_pem(X509* certificate, EVP_PKEY* key) {
  const BioPtr certificate_text(BIO_new(BIO_s_mem())), key_text(BIO_new(BIO_s_mem()));
  must(PEM_write_bio_X509(certificate_text.get(), certificate) == 1, "writing a certificate");
  must(PEM_write_bio_PKCS8PrivateKey(key_text.get(), key, nullptr, nullptr, 0, nullptr, nullptr) == 1, "writing a key");
  return {text_of(certificate_text.get()), text_of(key_text.get())};
}

/// 126 random bits: never zero, never negative (RFC 5280, 4.1.2.2).
void number(X509* certificate, const Entropy& entropy) {
  std::array<std::uint8_t, 16> bytes{};
  entropy(bytes);
  bytes[0] = static_cast<std::uint8_t>((bytes[0] & 0x3F) | 0x40);
  const std::unique_ptr<BIGNUM, detail::Freed<BN_free>> big(BN_bin2bn(bytes.data(), bytes.size(), nullptr));
  must(BN_to_ASN1_INTEGER(big.get(), X509_get_serialNumber(certificate)) != nullptr, "numbering a certificate");
}

void extend(X509* certificate, X509* issuer, int nid, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, issuer, certificate, nullptr, nullptr, 0);
  const ExtensionPtr extension(X509V3_EXT_conf_nid(nullptr, &context, nid, value.c_str()));
  must(extension != nullptr && X509_add_ext(certificate, extension.get(), -1) == 1, "extending a certificate");
}

void name_it(X509_NAME* name, const std::string& common) {
  // X.520 holds a common name to 64 characters.
  const std::string text = common.substr(0, 64);
  must(X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_UTF8, reinterpret_cast<const unsigned char*>(text.c_str()), -1,
                                  -1, 0) == 1,
       "naming a certificate");
}

CertificatePtr begun(EVP_PKEY* key, measure::Instant now, std::chrono::days lasts, const Entropy& entropy) {
  CertificatePtr certificate(X509_new());
  must(certificate != nullptr && X509_set_version(certificate.get(), X509_VERSION_3) == 1, "making a certificate");
  number(certificate.get(), entropy);
  const measure::Instant from = now - kBegunBefore;
  must(ASN1_TIME_set(X509_getm_notBefore(certificate.get()), from.time_since_epoch().count()) != nullptr, "dating");
  must(ASN1_TIME_set(X509_getm_notAfter(certificate.get()), (from + lasts).time_since_epoch().count()) != nullptr,
       "dating");
  must(X509_set_pubkey(certificate.get(), key) == 1, "setting a key");
  return certificate;
}

std::string alternative_names(const ServerNames& names) {
  std::string out;
  for (const std::string& name : names.dns) out += (out.empty() ? "DNS:" : ",DNS:") + name;
  for (const std::string& address : names.addresses) out += (out.empty() ? "IP:" : ",IP:") + address;
  return out;
}

/// The extension as it would be written for these names, to compare with.
bool has_names(X509* certificate, const ServerNames& names) {
  const int at = X509_get_ext_by_NID(certificate, NID_subject_alt_name, -1);
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, nullptr, nullptr, nullptr, nullptr, 0);
  const ExtensionPtr wanted(
      X509V3_EXT_conf_nid(nullptr, &context, NID_subject_alt_name, alternative_names(names).c_str()));
  if (at < 0 || wanted == nullptr) return false;
  const ASN1_OCTET_STRING* there = X509_EXTENSION_get_data(X509_get_ext(certificate, at));
  return ASN1_OCTET_STRING_cmp(there, X509_EXTENSION_get_data(wanted.get())) == 0;
}

measure::Instant moment_of(const ASN1_TIME* time) {
  std::tm parts{};
  if (ASN1_TIME_to_tm(time, &parts) != 1) return {};
  return measure::Instant(std::chrono::seconds(timegm(&parts)));
}

}  // namespace

Signed make_authority(const std::string& host, measure::Instant now, const Entropy& entropy) {
  const KeyPtr key(EVP_EC_gen("P-256"));
  must(key != nullptr, "making a key");
  const CertificatePtr made = begun(key.get(), now, kAuthorityLasts, entropy);
  name_it(X509_get_subject_name(made.get()), "Stillroom household at " + host);
  must(X509_set_issuer_name(made.get(), X509_get_subject_name(made.get())) == 1, "naming the issuer");
  extend(made.get(), made.get(), NID_basic_constraints, "critical,CA:TRUE,pathlen:0");
  extend(made.get(), made.get(), NID_key_usage, "critical,keyCertSign");
  extend(made.get(), made.get(), NID_subject_key_identifier, "hash");
  extend(made.get(), made.get(), NID_name_constraints, kConstraints);
  must(X509_sign(made.get(), key.get(), EVP_sha256()) > 0, "signing the authority");
  return as_pem(made.get(), key.get());
}

measure::Result<Signed> make_leaf(const Signed& authority, const ServerNames& names, measure::Instant now,
                                  const Entropy& entropy) {
  const CertificatePtr issuer = certificate_in(authority.certificate);
  const KeyPtr issuer_key = key_in(authority.key);
  if (issuer == nullptr || issuer_key == nullptr || X509_check_private_key(issuer.get(), issuer_key.get()) != 1) {
    return measure::refuse("bad_certificate", "The household's certificate authority cannot be read.",
                           {"Move its files away: another is made, and phones must trust that one anew."});
  }
  const KeyPtr key(EVP_EC_gen("P-256"));
  must(key != nullptr, "making a key");
  const CertificatePtr made = begun(key.get(), now, kLeafLasts, entropy);
  name_it(X509_get_subject_name(made.get()), names.dns.empty() ? "localhost" : names.dns.front());
  must(X509_set_issuer_name(made.get(), X509_get_subject_name(issuer.get())) == 1, "naming the issuer");
  extend(made.get(), issuer.get(), NID_basic_constraints, "critical,CA:FALSE");
  extend(made.get(), issuer.get(), NID_key_usage, "critical,digitalSignature");
  extend(made.get(), issuer.get(), NID_ext_key_usage, "serverAuth");
  extend(made.get(), issuer.get(), NID_subject_key_identifier, "hash");
  extend(made.get(), issuer.get(), NID_authority_key_identifier, "keyid:always");
  extend(made.get(), issuer.get(), NID_subject_alt_name, alternative_names(names));
  must(X509_sign(made.get(), issuer_key.get(), EVP_sha256()) > 0, "signing the leaf");
  return as_pem(made.get(), key.get());
}

bool still_serves(const Signed& leaf, const Signed& authority, const ServerNames& names, measure::Instant now) {
  const CertificatePtr shown = certificate_in(leaf.certificate), issuer = certificate_in(authority.certificate);
  const KeyPtr key = key_in(leaf.key);
  if (shown == nullptr || issuer == nullptr || key == nullptr) return false;
  return X509_check_private_key(shown.get(), key.get()) == 1 &&
         X509_check_issued(issuer.get(), shown.get()) == X509_V_OK &&
         X509_verify(shown.get(), X509_get0_pubkey(issuer.get())) == 1 && has_names(shown.get(), names) &&
         moment_of(X509_get0_notBefore(shown.get())) <= now &&
         moment_of(X509_get0_notAfter(shown.get())) - now > kRenewBefore;
}

bool can_sign(const Signed& authority) {
  const CertificatePtr issuer = certificate_in(authority.certificate);
  const KeyPtr key = key_in(authority.key);
  return issuer != nullptr && key != nullptr && X509_check_private_key(issuer.get(), key.get()) == 1;
}

std::string fingerprint(const std::string& certificate) {
  const CertificatePtr read = certificate_in(certificate);
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  if (read == nullptr || X509_digest(read.get(), EVP_sha256(), digest.data(), &size) != 1) return {};
  static constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string out;
  for (unsigned int i = 0; i < size; ++i) {
    if (i > 0) out += ':';
    out += kDigits[digest.at(i) >> 4];
    out += kDigits[digest.at(i) & 15];
  }
  return out;
}

measure::Instant valid_until(const std::string& certificate) {
  const CertificatePtr read = certificate_in(certificate);
  return read == nullptr ? measure::Instant{} : moment_of(X509_get0_notAfter(read.get()));
}

}  // namespace stillroom::share
