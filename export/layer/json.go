package layer

import (
	"strconv"

	"loamline.example/export/literal"
)

func AppendJSON(b []byte, c Column, v Value) []byte {
	if !v.Known {
		return append(b, "null"...)
	}
	switch c.Type {
	case TypeText:
		return literal.AppendJSON(b, v.Text)
	case TypeInteger:
		return strconv.AppendInt(b, int64(v.Num), 10)
	case TypeReal:
		return literal.AppendReal(b, v.Num, c.Decimals)
	case TypeBoolean:
		return strconv.AppendBool(b, v.Num != 0)
	case TypeReals:
		return appendList(b, v.Nums, func(b []byte, x float64) []byte { return literal.AppendReal(b, x, c.Decimals) })
	case TypeTexts:
		return appendList(b, v.Texts, literal.AppendJSON)
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
