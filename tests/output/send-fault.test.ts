// Why a packet did not leave, in words.

import { explainSendError } from '@glowchart/server/output/send-fault.ts'
import { expect, test } from 'vitest'

test.each([
  ['ENETUNREACH', /No way from 2\.0\.0\.1 to 2\.0\.0\.10: the cable/],
  ['EHOSTUNREACH', /2\.0\.0\.10 does not answer/],
  ['EADDRNOTAVAIL', /no network address 2\.0\.0\.1 now/],
  ['ENETDOWN', /adapter is down/],
  ['EACCES', /broadcast address/],
  ['EPERM', /firewall/],
  ['ENOBUFS', /cannot keep up/],
  ['STUCK', /Packets to 2\.0\.0\.10 wait .* the Wi-Fi/],
  ['ESOMETHING', /Sending to 2\.0\.0\.10 failed \(ESOMETHING\)\./],
])('a send that fails with %s is explained', (code, says) => {
  const to = { host: '2.0.0.10', port: 6454, via: '2.0.0.1', multicast: false }
  expect(explainSendError(Object.assign(new Error('x'), { code }), to)).toMatch(says)
})
