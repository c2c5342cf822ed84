package android;

public final class R {
    public static final class drawable {
        public static final int ic_popup_reminder = 17301555;
    }
}
