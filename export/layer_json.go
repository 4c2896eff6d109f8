package export

import "strconv"

func appendValue(b []byte, c column, v value) []byte {
	if !v.Known {
		return append(b, "null"...)
	}
	switch c.Type {
	case typeText:
		return appendString(b, v.Text)
	case typeInteger:
		return strconv.AppendInt(b, int64(v.Num), 10)
	case typeReal:
		return appendReal(b, v.Num, c.Decimals)
	case typeBoolean:
		return strconv.AppendBool(b, v.Num != 0)
	case typeReals:
		return appendList(b, v.Nums, func(b []byte, x float64) []byte { return appendReal(b, x, c.Decimals) })
	case typeTexts:
		return appendList(b, v.Texts, appendString)
	}
	panic("export: a column without a type: " + c.Name)
}

func appendList[T any](b []byte, list []T, one func([]byte, T) []byte) []byte {
	b = append(b, '[')
	for i, x := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = one(b, x)
	}
	return append(b, ']')
}
