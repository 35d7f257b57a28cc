# What only a Debian package has: its copyright and changelog, and pages that are compressed.
set(share ${CPACK_TEMPORARY_DIRECTORY}/usr/share)
set(doc ${share}/doc/rodbook)
configure_file(${CPACK_RODBOOK_SOURCE}/LICENSE ${doc}/copyright COPYONLY)
configure_file(${CPACK_RODBOOK_SOURCE}/data/package/changelog ${doc}/changelog COPYONLY)
file(GLOB pages ${share}/man/man1/*.1 ${share}/man/man5/*.5 ${share}/man/man7/*.7)
execute_process(COMMAND gzip -9nf ${pages} ${doc}/changelog COMMAND_ERROR_IS_FATAL ANY)
