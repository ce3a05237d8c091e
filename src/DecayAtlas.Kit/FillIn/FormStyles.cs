using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Spreadsheet;

namespace DecayAtlas.Kit.FillIn;

/// <summary>The looks of <see cref="CellStyle"/>, in its order.</summary>
internal static class FormStyles
{
    // ids of fonts, fills and borders below
    private const uint PlainFont = 0, BoldFont = 1, TitleFont = 2, GreyFont = 3;
    private const uint NoFill = 0, HeadFill = 2, FixedFill = 3;
    private const uint NoBorder = 0, ThinBorder = 1;

    // of formats that every spreadsheet has: a day as the reader's machine writes it, and a text
    private const uint AnyNumber = 0, ShortDay = 14, AsText = 49;

    public static Stylesheet Sheet() => new(
        new Fonts(Font(), Font(new Bold()), Font(new Bold(), 16), Font(new Italic(), 11, "FF6B6B6B")),
        new Fills(new Fill(new PatternFill { PatternType = PatternValues.None }),
            new Fill(new PatternFill { PatternType = PatternValues.Gray125 }), Solid("FFE3ECDD"), Solid("FFF1F1EE")),
        new Borders(new Border(), Thin()),
        new CellStyleFormats(new CellFormat()),
        new CellFormats(
            Format(PlainFont), Format(TitleFont), Format(PlainFont, wraps: true),
            Format(BoldFont, HeadFill, ThinBorder, wraps: true), Format(BoldFont, FixedFill, ThinBorder),
            Format(GreyFont, FixedFill, ThinBorder), Format(GreyFont, FixedFill, ThinBorder, ShortDay),
            Format(PlainFont, NoFill, ThinBorder, AsText, isLocked: false),
            Format(PlainFont, NoFill, ThinBorder, ShortDay, isLocked: false),
            Format(PlainFont, NoFill, ThinBorder, AnyNumber, isLocked: false)));

    private static Font Font(OpenXmlElement? look = null, double size = 11, string? colour = null)
    {
        Font font = new();
        if (look is not null)
            font.Append(look);
        font.Append(new FontSize { Val = size });
        if (colour is not null)
            font.Append(new Color { Rgb = colour });
        font.Append(new FontName { Val = "Arial" });
        return font;
    }

    private static Fill Solid(string colour) => new(
        new PatternFill(new ForegroundColor { Rgb = colour }, new BackgroundColor { Indexed = 64 })
        { PatternType = PatternValues.Solid });

    private static Border Thin() => new(
        new LeftBorder { Style = BorderStyleValues.Thin }, new RightBorder { Style = BorderStyleValues.Thin },
        new TopBorder { Style = BorderStyleValues.Thin }, new BottomBorder { Style = BorderStyleValues.Thin }, new DiagonalBorder());

    private static CellFormat Format(
        uint font, uint fill = NoFill, uint border = NoBorder, uint number = AnyNumber, bool wraps = false, bool isLocked = true) => new(
            new Alignment { Vertical = VerticalAlignmentValues.Center, WrapText = wraps }, new Protection { Locked = isLocked })
        {
            FontId = font,
            FillId = fill,
            BorderId = border,
            NumberFormatId = number,
            FormatId = 0,
            ApplyFont = true,
            ApplyFill = true,
            ApplyBorder = true,
            ApplyNumberFormat = true,
            ApplyAlignment = true,
            ApplyProtection = true,
        };
}
