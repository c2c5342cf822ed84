package android.net;

import android.os.Parcelable;

public class Uri implements Parcelable {
    private final String text;

    private Uri(String text) {
        this.text = text;
    }

    public static Uri parse(String text) {
        return new Uri(text);
    }

    public String getLastPathSegment() {
        return text.substring(text.lastIndexOf('/') + 1);
    }

    @Override
    public String toString() {
        return text;
    }
}
