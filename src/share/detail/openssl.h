#pragma once

#include <openssl/asn1.h>
#include <openssl/bio.h>
#include <openssl/evp.h>
#include <openssl/x509.h>

#include <memory>

/// OpenSSL's things, freed by themselves.
namespace stillroom::share::detail {

template <auto Free>
struct Freed {
  template <class T>
  void operator()(T* p) const {
    Free(p);
  }
};
using CertificatePtr = std::unique_ptr<X509, Freed<X509_free>>;
using KeyPtr = std::unique_ptr<EVP_PKEY, Freed<EVP_PKEY_free>>;
using BioPtr = std::unique_ptr<BIO, Freed<BIO_free_all>>;
using ExtensionPtr = std::unique_ptr<X509_EXTENSION, Freed<X509_EXTENSION_free>>;

}  // namespace stillroom::share::detail
