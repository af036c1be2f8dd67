package unit

import "strings"

// currencyCodes are the active alphabetic codes of ISO 4217 list one for
// currencies and funds. The codes for testing, for no currency, for metals and
// for bond market units are left out. Source: the list as packaged by the
// iso-codes project (4.15.0), with the amendments since then from memory:
// CUC, HRK, SLL, ANG, ZWL and BGN withdrawn, XCG, ZWG and XAD added.
const currencyCodes = `
AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BHD BIF BMD BND BOB BOV BRL BSD
BTN BWP BYN BZD CAD CDF CHE CHF CHW CLF CLP CNY COP COU CRC CUP CVE CZK DJF DKK
DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF
IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP
LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD
NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD
SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD
TWD TZS UAH UGX USD USN UYI UYU UYW UZS VED VES VND VUV WST XAD XAF XCD XCG XDR
XOF XPF XSU XUA YER ZAR ZMW ZWG`

var currencies = func() map[string]bool {
	m := map[string]bool{}
	for _, code := range strings.Fields(currencyCodes) {
		m[code] = true
	}
	return m
}()

// IsCurrency reports whether the code is an active currency of ISO 4217.
func IsCurrency(code string) bool { return currencies[code] }

// Currencies are the active codes of ISO 4217 in alphabetical order.
func Currencies() []string { return strings.Fields(currencyCodes) }
