//go:build !js

package pack

// The fixed parts of a workbook of one sheet, as ISO/IEC 29500-1:2016 and -2 (packaging)
// name them.
const (
	xlsxMain = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	xlsxRels = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	xlsxPack = "http://schemas.openxmlformats.org/package/2006/"
	xlsxType = "application/vnd.openxmlformats-officedocument.spreadsheetml."

	xlsxTypes = `<Types xmlns="` + xlsxPack + `content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>` +
		`<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="` + xlsxType + `sheet.main+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="` + xlsxType + `styles+xml"/>` +
		`<Override PartName="/xl/worksheets/sheet1.xml" ContentType="` + xlsxType + `worksheet+xml"/></Types>`

	xlsxRoot = `<Relationships xmlns="` + xlsxPack + `relationships">` +
		`<Relationship Id="rId1" Type="` + xlsxRels + `/officeDocument" Target="xl/workbook.xml"/>` +
		`<Relationship Id="rId2" Type="` + xlsxPack + `relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`

	// Title, who wrote it, when.
	xlsxCore = `<cp:coreProperties xmlns:cp="` + xlsxPack + `metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">` +
		`<dc:title>%[1]s</dc:title><dc:creator>%[2]s</dc:creator><cp:lastModifiedBy>%[2]s</cp:lastModifiedBy>` +
		`<dcterms:created xsi:type="dcterms:W3CDTF">%[3]s</dcterms:created><dcterms:modified xsi:type="dcterms:W3CDTF">%[3]s</dcterms:modified></cp:coreProperties>`

	// The sheet's name.
	xlsxBook = `<workbook xmlns="` + xlsxMain + `" xmlns:r="` + xlsxRels + `"><sheets><sheet name="%s" sheetId="1" r:id="rId1"/></sheets></workbook>`

	xlsxBookParts = `<Relationships xmlns="` + xlsxPack + `relationships">` +
		`<Relationship Id="rId1" Type="` + xlsxRels + `/worksheet" Target="worksheets/sheet1.xml"/>` +
		`<Relationship Id="rId2" Type="` + xlsxRels + `/styles" Target="styles.xml"/></Relationships>`

	// Number formats, and the styles of cells: the first is nobody's.
	xlsxStyleSheet = `<styleSheet xmlns="` + xlsxMain + `"><numFmts count="%d">%s</numFmts>` +
		`<fonts count="2"><font><sz val="11"/><family val="2"/></font><font><b/><sz val="11"/><family val="2"/></font></fonts>` +
		`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
		`<borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border>` +
		`<border><left/><right/><top/><bottom style="thin"><color rgb="FF16202E"/></bottom><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		`<cellXfs count="%d"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>%s</cellXfs>` +
		`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`

	// Widths of the columns, and the rows.
	xlsxSheet = `<worksheet xmlns="` + xlsxMain + `"><sheetViews><sheetView workbookViewId="0">` +
		`<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/><selection pane="bottomLeft" activeCell="A2" sqref="A2"/></sheetView></sheetViews>` +
		`<cols>%s</cols><sheetData>%s</sheetData></worksheet>`
)
