using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class AnswerTests
{
    [Fact]
    public void An_answer_is_right_within_its_share_and_only_then_told()
    {
        Answer right = Answer.Of((Length?)15.5.Millimeters(), 16.Millimeters(), 0.05, "So it is.");
        Assert.True(right.IsRight);
        Assert.Equal("Right: it is 16 mm. So it is.", right.ToString());
        Answer small = Answer.Of((Length?)1.Centimeters(), 16.Millimeters(), 0.05, "So it is.");
        Assert.False(small.IsRight);
        Assert.Equal("Not yet: it is more than that.", small.ToString());
        Assert.Equal("Not yet: it is less than that.", Answer.Of(100, 20, 0.2, "So it is.").ToString());
        Assert.Null(Answer.Of((double?)null, 20, 0.2, "So it is.").IsRight);
        Assert.DoesNotContain("20", Answer.Of((double?)null, 20, 0.2, "So it is.").ToString(), StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Answer.Of(1, 1, 0, "So it is."));
    }
}
