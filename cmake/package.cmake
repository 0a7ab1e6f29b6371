# A .deb with the program, its licence and README, and a systemd user unit:
#   ninja -C build/release stillroom && cpack --config build/release/CPackConfig.cmake -B build/package
include(GNUInstallDirs)
set(CMAKE_SKIP_INSTALL_ALL_DEPENDENCY ON) # packing needs the program, not every test
install(TARGETS stillroom RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} OPTIONAL)
install(FILES packaging/stillroom.service DESTINATION lib/systemd/user)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME stillroom)
set(CPACK_PACKAGE_CONTACT "Stillroom maintainers <maintainers@stillroom.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Plans, carries through and keeps account of a household's larder")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION misc)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS tzdata)
include(CPack)
