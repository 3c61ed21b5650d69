package sales

import (
	"bytes"
	"encoding/binary"
)

// orientation is how the camera was held, 1 to 8 as Exif has it; 1 where a JPEG does not say. It reads no further than
// the first entries of the first directory.
func orientation(file []byte) int {
	for at := 2; bytes.HasPrefix(file, []byte{0xff, 0xd8}) && at+4 <= len(file); {
		if file[at] != 0xff || file[at+1] == 0xda { // the picture itself begins
			return 1
		}
		size := int(binary.BigEndian.Uint16(file[at+2:]))
		if size < 2 || at+2+size > len(file) {
			return 1
		}
		if part := file[at+4 : at+2+size]; file[at+1] == 0xe1 && bytes.HasPrefix(part, []byte("Exif\x00\x00")) {
			return tagged(part[6:])
		}
		at += 2 + size
	}
	return 1
}

// tagged reads the tag of the orientation from a TIFF block.
func tagged(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	switch string(tiff[:4]) {
	case "II*\x00":
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return 1
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return 1
	}
	entries := int64(order.Uint16(tiff[at:]))
	for i := range entries {
		e := at + 2 + 12*i
		if e+12 > int64(len(tiff)) {
			return 1
		}
		if order.Uint16(tiff[e:]) == 0x0112 {
			if way := int(order.Uint16(tiff[e+8:])); way >= 1 && way <= 8 {
				return way
			}
			return 1
		}
	}
	return 1
}
